// SPDX-License-Identifier: MIT
// What the cases share: the daemon under a stopped clock, a line to it that can be cut, a phone, and a
// count of what held. The line is a small proxy, so that "no signal" is no signal for pages, workers
// and the browser alike, and every byte that crosses it is counted.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import http from "node:http";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";

const require = createRequire(import.meta.url);
export const { chromium } = require("playwright-core");
const AXE = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

export const NOW = "2026-11-25T06:45:00-07:00"; // a Wednesday, the crew in the truck
const BEHIND_MILLIS = 3 * 60 * 1000; // the phone's clock, so that what it writes is not ahead of now
export const PHONE = { viewport: { width: 360, height: 740 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true, timezoneId: "America/Denver" };

let passed = 0;
let failed = 0;

export function check(what, holds, ...about) {
  if (holds) {
    passed++;
    return true;
  }
  failed++;
  console.log(`FAIL ${what}${about.length ? `: ${about.map((one) => (typeof one === "string" ? one : JSON.stringify(one))).join(" ")}` : ""}`);
  return false;
}

export function count() {
  return { passed, failed };
}

export async function until(what, probe, millis = 20000) {
  const end = Date.now() + millis;
  let last;
  for (;;) {
    try {
      last = await probe();
      if (last) return check(what, true);
    } catch (fault) {
      last = String(fault);
    }
    if (Date.now() > end) return check(what, false, "gave up; last was", String(last));
    await new Promise((resolve) => setTimeout(resolve, 60));
  }
}

// --- the daemon ------------------------------------------------------------------------------------

const leftovers = []; // what a case opened, for the case that fails half way

export async function tidy() {
  for (const one of leftovers.splice(0).reverse()) await one.drop().catch(() => {});
}

const daemons = new Set();
process.on("exit", () => daemons.forEach((child) => child.kill("SIGKILL")));
for (const signal of ["SIGTERM", "SIGINT", "SIGHUP"]) process.on(signal, () => process.exit(1));

export class Daemon {
  constructor(exe, now = NOW) {
    this.exe = exe;
    this.now = now;
    this.folder = mkdtempSync(path.join(os.tmpdir(), "emberwait-browser-"));
    leftovers.push(this);
    this.db = path.join(this.folder, "yard.db");
  }

  async start(...more) {
    const words = more.length ? more : ["demo"];
    this.child = spawn(this.exe, [...words, "--db", this.db, "--port", "0", "--now", this.now], { stdio: ["ignore", "pipe", "ignore"] });
    daemons.add(this.child);
    let told = "";
    for await (const piece of this.child.stdout) {
      told += piece;
      if (words[0] === "demo" ? told.includes("Control-C") : told.includes("listening on")) break;
    }
    if (!told.includes("listening on")) throw new Error(`the daemon did not start: ${told}`);
    this.port = Number(/listening on http:\/\/[^:]+:(\d+)/.exec(told)[1]);
    this.links ??= Object.fromEntries([...told.matchAll(/^(\w[\w ]*?)\s+http:\/\/[^/]+(\/[ch]\/\S+)$/gm)].map((m) => [m[1], m[2]]));
    return this;
  }

  async stop(signal = "SIGTERM") {
    if (!this.child) return;
    const ended = once(this.child, "exit");
    this.child.kill(signal);
    await ended;
    daemons.delete(this.child);
    this.child = null;
  }

  async drop() {
    await this.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }

  async json(at, init) {
    const answer = await fetch(`http://127.0.0.1:${this.port}${at}`, init);
    return answer.json();
  }

  async records(job) {
    return (await this.json(`/api/v1/jobs/${job}/records`)).records;
  }
}

// --- the line --------------------------------------------------------------------------------------

// pass: as it is. cut: nobody answers. swallow: the office gets it, the phone never hears. broken:
// the office answers 500. `only` limits it to requests whose method and path match.
export class Line {
  constructor(daemon) {
    this.daemon = daemon;
    this.mode = "pass";
    this.only = null;
    this.log = [];
    this.bytes = 0;
    this.sockets = new Set();
    leftovers.push(this);
    this.server = http.createServer((request, answer) => this.take(request, answer));
    this.server.on("connection", (socket) => {
      this.sockets.add(socket);
      socket.on("close", () => this.sockets.delete(socket));
      if (this.mode === "cut") socket.destroy();
    });
  }

  async open() {
    this.server.listen(0, "127.0.0.1");
    await once(this.server, "listening");
    this.port = this.server.address().port;
    return this;
  }

  url(at = "/", host = "localhost") {
    return `http://${host}:${this.port}${at}`;
  }

  cut() {
    this.mode = "cut";
    for (const socket of this.sockets) socket.destroy();
  }

  pass() {
    this.mode = "pass";
    this.only = null;
  }

  acts(mode, request) {
    return this.mode === mode && (!this.only || this.only.test(`${request.method} ${request.url}`));
  }

  take(request, answer) {
    if (this.mode === "cut") return request.socket.destroy();
    if (this.acts("broken", request)) {
      this.log.push({ method: request.method, url: request.url, status: 500 });
      answer.writeHead(500).end("broken");
      return request.resume();
    }
    const onward = http.request({ host: "127.0.0.1", port: this.daemon.port, method: request.method, path: request.url, headers: request.headers }, (reply) => {
      this.log.push({ method: request.method, url: request.url, status: reply.statusCode });
      if (this.acts("swallow", request)) {
        reply.resume();
        reply.on("end", () => request.socket.destroy());
        return undefined;
      }
      const head = reply.rawHeaders.reduce((sum, part) => sum + part.length + 2, 20);
      this.bytes += head;
      reply.on("data", (piece) => (this.bytes += piece.length));
      answer.writeHead(reply.statusCode, reply.rawHeaders);
      return reply.pipe(answer);
    });
    onward.on("error", () => request.socket.destroy());
    return request.pipe(onward);
  }

  async drop() {
    for (const socket of this.sockets) socket.destroy();
    this.server.close();
  }
}

// --- the phone -------------------------------------------------------------------------------------

const ARGUMENTS = ["--no-sandbox", "--disable-dev-shm-usage", "--host-resolver-rules=MAP *.test 127.0.0.1", "--disable-features=Translate"];

export function launch(extra = []) {
  return chromium.launch({ executablePath: process.env.EMBERWAIT_BROWSER, args: [...ARGUMENTS, ...extra] });
}

export function phoneTime(minutes = 0) {
  return new Date(Date.parse(NOW) - BEHIND_MILLIS + minutes * 60000);
}

// A phone with a memory of its own: what it keeps outlives its browser.
export class Phone {
  constructor(name = "phone") {
    this.folder = mkdtempSync(path.join(os.tmpdir(), `emberwait-${name}-`));
    this.faults = [];
    leftovers.push(this);
  }

  async on({ minutes = 0, ...more } = {}) {
    this.context = await chromium.launchPersistentContext(this.folder, { executablePath: process.env.EMBERWAIT_BROWSER, args: ARGUMENTS, ...PHONE, ...more });
    this.context.setDefaultTimeout(10000);
    await this.context.clock.install({ time: phoneTime(minutes) });
    return this;
  }

  async open(address) {
    this.page = await this.context.newPage();
    this.page.on("pageerror", (fault) => this.faults.push(String(fault)));
    this.page.on("console", (line) => {
      if (line.type() === "error" && !/ERR_|Failed to load resource/.test(line.text())) this.faults.push(line.text());
    });
    await this.page.goto(address);
    await this.ready();
    return this.page;
  }

  ready() {
    return this.page.waitForSelector("html[data-ready]", { timeout: 15000 });
  }

  // Until the page and its parts are kept in both languages.
  kept(address) {
    const at = new URL(address).pathname;
    return until("the page is kept in both languages", () =>
      this.page.evaluate(async (where) => {
        const shelf = await caches.open((await caches.keys())[0]);
        return (await shelf.match(`${where}?lang=en`)) && (await shelf.match(`${where}?lang=es`)) && true;
      }, at), 15000);
  }

  off() {
    return this.context.close();
  }

  async drop() {
    await this.context?.close().catch(() => {});
    rmSync(this.folder, { recursive: true, force: true });
  }
}

// Width and height out of a JPEG's frame header (ITU-T T.81, B.2.2).
export function jpegSize(bytes) {
  for (let at = 2; at + 9 < bytes.length; at += 2 + bytes.readUInt16BE(at + 2)) {
    const marker = bytes[at + 1];
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) return [bytes.readUInt16BE(at + 7), bytes.readUInt16BE(at + 5)];
  }
  return [0, 0];
}

// --- what is looked at on every page ---------------------------------------------------------------

export async function axe(page, what, rules = {}) {
  await page.evaluate(AXE);
  const found = await page.evaluate((options) => window.axe.run(document, options), { resultTypes: ["violations"], rules: { "color-contrast-enhanced": { enabled: false }, ...rules } });
  const says = found.violations.map((one) => `${one.id} (${one.impact}): ${one.nodes.slice(0, 3).map((node) => `${node.target.join(" ")} ${node.failureSummary?.split("\n")[1] ?? ""}`).join(" | ")}`);
  return check(`axe finds nothing on ${what}`, found.violations.length === 0, says.join("; "));
}

export async function noSideways(page, what) {
  const [wide, room] = await page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
  const out = wide <= room ? [] : await page.evaluate(() => [...document.querySelectorAll("body *")].filter((one) => one.getBoundingClientRect().right > document.documentElement.clientWidth + 1).slice(0, 4).map((one) => `${one.tagName}.${one.getAttribute("class")} ${one.textContent.slice(0, 20)}`));
  return check(`${what} does not scroll sideways`, wide <= room, `${wide} > ${room}`, out.join(", "));
}

export async function shot(page, name) {
  const folder = process.env.EMBERWAIT_SHOTS;
  if (!folder) return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: path.join(folder, `${name}.png`), fullPage: true });
}

// A picture as a camera makes it: large, and no two pixels alike.
export async function camera(page, side = 3000) {
  const url = await page.evaluate(async (n) => {
    const canvas = document.createElement("canvas");
    canvas.width = n;
    canvas.height = Math.round(n * 0.75);
    const draw = canvas.getContext("2d");
    for (let i = 0; i < 4000; i++) {
      draw.fillStyle = `rgb(${(i * 37) % 256},${(i * 91) % 256},${(i * 53) % 256})`;
      draw.fillRect((i * 7919) % n, (i * 104729) % canvas.height, 90, 60);
    }
    return canvas.toDataURL("image/jpeg", 0.97);
  }, side);
  return { name: "camera.jpg", mimeType: "image/jpeg", buffer: Buffer.from(url.split(",")[1], "base64") };
}
