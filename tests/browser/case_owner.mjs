// SPDX-License-Identifier: MIT
// The owner at the kitchen table: each question of the morning and of the week is read off the page
// and held against the plan as JSON, on days of different weather; the morning fits one screen; every
// control is reached by the keyboard alone; nothing is told to the console; paper is as long as paper.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { check, Daemon, launch, shot } from "./lib.mjs";

const DESK = { viewport: { width: 1280, height: 800 } };
const DAYS = ["2026-02-11T06:15:00-07:00", "2026-07-22T06:15:00-06:00", "2026-11-25T06:15:00-07:00"];
const FIRE_SHEET_PAGES = 2; // one leaf, both sides

async function yardUp(exe, now) {
  const daemon = await new Daemon(exe, now).start();
  const browser = await launch();
  return { daemon, browser, at: (where) => `http://127.0.0.1:${daemon.port}${where}`, end: async () => { await browser.close(); await daemon.drop(); } };
}

async function open({ browser, at, daemon }, where, lang = "en") {
  const context = await browser.newContext({ ...DESK, locale: lang === "es" ? "es-MX" : "en-US", serviceWorkers: "block" });
  await context.clock.install({ time: new Date(Date.parse(daemon.now)) });
  const page = await context.newPage();
  page.told = [];
  page.on("pageerror", (fault) => page.told.push(String(fault)));
  page.on("console", (line) => { if (["error", "warning"].includes(line.type())) page.told.push(line.text()); });
  await page.goto(at(`${where}${where.includes("?") ? "&" : "?"}lang=${lang}`));
  return page;
}

// --- what an instant of the plan looks like on a page, worked out again from its wall clock ----------

function hour(iso) {
  const [, hh, mm] = /T(\d\d):(\d\d)/.exec(iso);
  return `${Number(hh) % 12 || 12}${mm === "00" ? "" : `:${mm}`} ${Number(hh) < 12 ? "am" : "pm"}`;
}

function weekday(iso) {
  return new Intl.DateTimeFormat("en-US", { weekday: "short", timeZone: "UTC" }).format(new Date(`${iso.slice(0, 10)}T12:00:00Z`));
}

function date(iso) {
  if (!iso) return "no date yet";
  return `${weekday(iso)} ${Number(iso.slice(8, 10))} ${new Intl.DateTimeFormat("en-US", { month: "long", timeZone: "UTC" }).format(new Date(`${iso.slice(0, 10)}T12:00:00Z`))}`;
}

const jobOf = (href) => decodeURIComponent(href.replace("/jobs/", ""));
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);

// The rows below the heading that leads to a page, each with its text and the job it names.
function rows(page, heading) {
  return page.evaluate((want) => {
    const section = [...document.querySelectorAll("main section")].find((one) => {
      const head = one.querySelector("h2");
      return head && (head.querySelector("a")?.getAttribute("href") === want || head.textContent.startsWith(want));
    });
    return section && [...section.querySelectorAll("ul.rows > li")].map((li) => ({
      text: li.textContent.replace(/\s+/g, " "),
      jobs: [...li.querySelectorAll("a.job")].map((a) => a.getAttribute("href")),
    }));
  }, heading);
}

async function jobRows(page, heading) {
  return ((await rows(page, heading)) ?? []).filter((row) => row.jobs.length > 0).map((row) => ({ ...row, job: jobOf(row.jobs[0]) }));
}

// --- the morning --------------------------------------------------------------------------------------

async function whoGoesWhere(page, yard) {
  const said = await rows(page, "/weeks");
  yard.crews.forEach((crew, i) => {
    const work = crew.days[0]?.work ?? [];
    const visits = work.filter((one, k) => k === 0 || one.job !== work[k - 1].job);
    const shown = (said[i]?.jobs ?? []).slice(0, visits.length).map(jobOf);
    check(`who goes where: ${crew.crew}`, visits.length > 0 && same(shown, visits.map((one) => one.job)), shown, visits.map((one) => one.job));
    check(`from when: ${crew.crew}`, visits.every((one) => said[i].text.includes(hour(one.start))), said[i]?.text);
  });
}

async function pads(page, yard) {
  const said = (await jobRows(page, "/pads")).filter((row) => /\d+\/\d+/.test(row.text));
  check("pads are told", said.length >= 3, said);
  for (const row of said) {
    const [, have, need] = /([\d.]+)\/(\d+)/.exec(row.text);
    const clock = yard.jobs.find((job) => job.id === row.job).clocks.find((one) => one.part === "pad" && one.need === Number(need) && one.have >= Number(have) - 1e-6 && one.have < Number(have) + 0.1);
    check(`${row.job}: warm hours of the plan`, clock, row.text);
    if (!clock) continue;
    if (/opens/.test(row.text)) check(`${row.job}: opens when the plan says`, row.text.includes(`opens ${weekday(clock.opens)} ${hour(clock.opens)}`), row.text, clock.opens);
    if (clock.last_reading && /probe/.test(row.text)) check(`${row.job}: the reading it rests on`, row.text.includes(`${Math.round(clock.last_reading.degf)}°F`), row.text, clock.last_reading);
    check(`${row.job}: no reading since`, /No reading since/.test(row.text) === Boolean(clock.no_reading_since) && (!clock.no_reading_since || row.text.includes(hour(clock.no_reading_since))), row.text, clock.no_reading_since);
  }
}

async function canPour(page, yard) {
  const said = (await jobRows(page, "/pads")).filter((row) => row.text.includes("Can I pour?"));
  check("a pour is asked for", said.length > 0);
  for (const row of said) {
    const pour = yard.can_pour.find((one) => one.job === row.job);
    check(`${row.job}: can I pour`, pour && (pour.state === "closed" ? row.text.includes(`Not today: ${pour.figure.says}`) : !row.text.includes("Not today")), row.text, pour);
  }
}

async function tonight(page, yard) {
  const said = await jobRows(page, "/tonight");
  check("what can rain on me: the plan's list", same(said.map((row) => row.job).sort(), yard.tonight.map((one) => one.job).sort()), said, yard.tonight);
  yard.tonight.forEach((one) => {
    const row = said.find((other) => other.job === one.job && other.text.includes(one.do));
    check(`${one.job}: figures, hour and who`, row && row.text.includes(`before ${hour(one.before)}`) && row.text.includes(one.crew ?? "nobody named") &&
      (one.low_degf === null || row.text.includes(`low ${Math.round(one.low_degf)}°F at ${hour(one.low_at)}`)) && row.text.includes(one.covered ? "covered by record" : "Cover tonight"), row?.text, one);
  });
}

async function lists(page, yard, changes) {
  const idle = (await jobRows(page, "/jobs")).map((row) => row.job);
  check("what is ready and nobody is on it", same(idle, yard.lists.idle.slice(0, 5).map((one) => one.job)), idle, yard.lists.idle);
  const owed = await jobRows(page, "/dates");
  check("who is owed a call", same(owed.map((row) => row.job), yard.lists.owed_calls.slice(0, 5).map((one) => one.job)), owed);
  yard.lists.owed_calls.slice(0, 5).forEach((one, i) => check(`${one.job}: told and now`, owed[i]?.text.includes(date(one.told)) && (!one.now || owed[i].text.includes(date(one.now))), owed[i]?.text, one));
  const calls = await jobRows(page, "/call-in");
  const due = yard.lists.call_in.filter((one) => one.today);
  check("what to call in today", due.length > 0 && same(calls.map((row) => row.job), due.map((one) => one.job)), calls);
  due.forEach((one, i) => check(`${one.job}: by when and whom`, calls[i]?.text.includes(`by ${weekday(one.request_by)} ${hour(one.request_by)}`) && calls[i].text.includes(one.phone), calls[i]?.text, one));
  const moved = await jobRows(page, "Dates that moved");
  const want = changes.filter((one) => one.first_fire.old !== one.first_fire.new || one.date_given_withdrawn);
  check("what last night did", same(moved.map((row) => row.job).sort(), want.map((one) => one.job).sort()), moved, want);
  const year = (iso) => (iso && iso.slice(0, 4) !== yard.now.slice(0, 4) ? ` ${iso.slice(0, 4)}` : "");
  moved.forEach((row) => {
    const one = want.find((other) => other.job === row.job);
    check(`${row.job}: was, now and why`, row.text.includes(`Was ${date(one?.first_fire.old)}${year(one?.first_fire.old)}, now ${date(one?.first_fire.new)}${year(one?.first_fire.new)}.`) && /now [^.]+\. \S.{20}/.test(row.text), row.text, one?.first_fire);
  });
}

async function noPhoto(up) {
  const before = await open(up, "/");
  const none = (await jobRows(before, "Passed without a photo")).filter((row) => row.job === "cellar-lane");
  await before.context().close();
  const at = new Date(Date.parse(up.daemon.now) - 3600e3).toISOString();
  const made = await fetch(up.at("/api/v1/jobs/cellar-lane/records"), { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ id: "passed-by-name", kind: "passed", task: "pad-check", at, by: "R. Vandermere" }) });
  check("a pass by name is taken", made.status < 300, made.status, await made.text());
  const page = await open(up, "/");
  const told = (await jobRows(page, "Passed without a photo")).filter((row) => row.job === "cellar-lane");
  const plan = (await up.daemon.json("/api/v1/jobs/cellar-lane/plan")).jobs[0];
  check("a hold point passed without a photo is told, by plan and page", none.length === 0 && told.length === 1 && JSON.stringify(plan.without_photo).includes("pad-check"), told, plan.without_photo);
  await page.context().close();
}

// --- the week -----------------------------------------------------------------------------------------

async function week(up, yard) {
  let page = await open(up, "/weeks");
  const cells = await page.evaluate(() => [...document.querySelector("main table").tBodies[0].rows].map((row) => [...row.cells].map((cell) => cell.textContent)));
  check("three weeks: needed, had, waiting, short", cells.length === yard.weeks.length && yard.weeks.every((one, i) => cells[i][0].includes(date(one.monday)) &&
    [one.needed_days, one.had_days, one.placed_days].every((days, k) => Math.abs(Number(cells[i][k + 1]) - days) <= 0.1001) && Number(cells[i][4]) === one.idle_jobs && Number(cells[i][5]) === one.short_jobs), cells, yard.weeks);
  await page.context().close();
  page = await open(up, "/first-fires");
  const fires = await page.evaluate(() => [...document.querySelectorAll("table.fires tbody tr")].map((row) => ({ href: row.querySelector("a.job").getAttribute("href"), day: row.cells[1].textContent, thin: row.cells[4].querySelector("b") !== null, given: row.cells[4].textContent, why: row.cells[6].textContent })));
  const want = yard.lists.first_fires;
  check("first fires in the plan's order", want.length > 5 && same(fires.map((one) => jobOf(one.href)), want.map((one) => one.job)), fires.map((one) => one.href));
  check("which promises are thin", want.some((one) => one.thin) && want.every((one, i) => fires[i]?.thin === one.thin), want.filter((one, i) => fires[i]?.thin !== one.thin));
  check("earliest, date given and what drives it", want.every((one, i) => fires[i]?.day.includes(date(one.date)) && fires[i].given.includes(date(one.agreed)) && (!one.driver || fires[i].why.includes(one.driver.says.split(" (")[0].slice(0, 20)))), fires.slice(0, 3));
  await page.context().close();
  page = await open(up, "/dates");
  const given = await page.evaluate(() => [...document.querySelectorAll("main tbody tr")].map((row) => ({ href: row.querySelector("a.job").getAttribute("href"), gone: row.cells[2].querySelector("s") !== null })));
  check("dates given, and which no longer stand", same(given.map((one) => [jobOf(one.href), !one.gone]).sort(), yard.lists.dates_given.map((one) => [one.job, one.holds]).sort()), given);
  await page.context().close();
}

// "When must this be finished for the fire to hold": the page's list against the plan's figures.
async function workBack(up, yard) {
  const whole = (await Promise.all(yard.jobs.map((one) => up.daemon.json(`/api/v1/jobs/${one.job ?? one.id}/plan`)))).map((one) => one.jobs[0]);
  const wanted = whole.filter((one) => one.work_back);
  check("some job has a fire to work back from", wanted.length > 0, whole.map((one) => one.id));
  for (const job of wanted) {
    const page = await open(up, `/jobs/${job.id}`);
    const said = (await rows(page, "Work back from")) ?? [];
    const want = job.tasks.filter((one) => one.latest_finish && !["done", "passed", "not-needed"].includes(one.state));
    check(`${job.id}: worked back`, said.length === want.length && want.every((one, i) => said[i].text.includes(`by ${weekday(one.latest_finish)}`) && (one.days_to_spare === null || said[i].text.includes(`days to spare: ${one.days_to_spare}`))), said, want.map((one) => [one.task, one.latest_finish, one.days_to_spare]));
    await page.context().close();
  }
}

function questions(now) {
  return async (exe) => {
    const up = await yardUp(exe, now);
    const yard = await up.daemon.json("/api/v1/yard?lang=en");
    const changes = (await up.daemon.json("/api/v1/changes?lang=en")).changes;
    const page = await open(up, "/");
    await whoGoesWhere(page, yard);
    await pads(page, yard);
    await canPour(page, yard);
    await tonight(page, yard);
    await lists(page, yard, changes);
    await page.context().close();
    await week(up, yard);
    await workBack(up, yard);
    await noPhoto(up);
    await up.end();
  };
}

// --- the screen, the keyboard, the console, paper ----------------------------------------------------

async function fits(exe) {
  for (const now of DAYS) {
    const up = await yardUp(exe, now);
    for (const lang of ["en", "es"]) {
      const page = await open(up, "/", lang);
      const high = await page.evaluate(() => document.documentElement.scrollHeight);
      const end = await page.evaluate(() => Math.round(document.querySelector("footer").getBoundingClientRect().bottom));
      console.log(`  ${now.slice(0, 10)} (${lang}): the morning ends at ${end} px of 800`);
      check(`the morning of ${now.slice(0, 10)} is one screen (${lang})`, high <= 800, high);
      await shot(page, `owner-today-${now.slice(0, 10)}-${lang}`);
      await page.context().close();
    }
    await up.end();
  }
}

// Tab from the top until the focus comes round, and what it stood on without showing it.
async function tabThrough(page) {
  const wanted = await page.evaluate(() => {
    const radios = new Set();
    window.wanted = [...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")].filter((one) => {
      if (!one.checkVisibility() || one.disabled) return false;
      if (one.type !== "radio") return true;
      const known = radios.has(one.name);
      radios.add(one.name);
      return !known;
    });
    window.stood = new Set();
    window.dim = [];
    document.addEventListener("focusin", (event) => {
      const one = event.target;
      window.stood.add(one.type === "radio" ? one.name : one);
      const style = getComputedStyle(one);
      if (style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2) window.dim.push(one.outerHTML.slice(0, 80));
    });
    return window.wanted.length;
  });
  for (let i = 0; i < wanted * 7 && !(await page.evaluate(() => window.wanted.every((one) => window.stood.has(one.type === "radio" ? one.name : one)))); i += 10)
    for (let k = 0; k < 10; k++) await page.keyboard.press("Tab");
  return page.evaluate(() => ({ missed: window.wanted.filter((one) => !window.stood.has(one.type === "radio" ? one.name : one)).map((one) => one.outerHTML.slice(0, 90)), dim: window.dim, wanted: window.wanted.length }));
}

async function keyboard(exe) {
  const up = await yardUp(exe, DAYS[2]);
  for (const where of ["/", "/pads", "/dates", "/jobs/new", "/import", "/people", "/jobs/sorrel-gap/tell"]) {
    const page = await open(up, where);
    const { missed, dim, wanted } = await tabThrough(page);
    check(`${where}: every control by keyboard`, wanted > 10 && missed.length === 0, missed.length, missed.slice(0, 4));
    check(`${where}: the focus is seen`, dim.length === 0, dim.slice(0, 4));
    await page.context().close();
  }
  await up.end();
}

async function silent(exe) {
  const up = await yardUp(exe, DAYS[2]);
  const office = ["/", "/yard", "/pads", "/tonight", "/call-in", "/jobs", "/jobs/new", "/weeks", "/first-fires", "/dates", "/rules", "/people", "/import"];
  const ofJob = ["", "/tell", "/proof", "/letter", "/tag", "/day-sheet", "/fire-sheet", "/take-over"].map((part) => `/jobs/sorrel-gap${part}`);
  for (const where of [...office, ...ofJob, up.daemon.links["a homeowner"]]) {
    const page = await open(up, where);
    await page.waitForLoadState("networkidle");
    check(`${where.startsWith("/h/") ? "the homeowner's page" : where} tells the console nothing`, page.told.length === 0, page.told.slice(0, 3));
    await page.context().close();
  }
  await up.end();
}

async function paper(exe) {
  const up = await yardUp(exe, DAYS[2]);
  const folder = mkdtempSync(path.join(os.tmpdir(), "emberwait-owner-paper-"));
  const jobs = ["sorrel-gap", "toll-road", "hatch-lane"];
  for (const [part, most] of [["letter", 1], ["tag", 1], ["fire-sheet", FIRE_SHEET_PAGES], ["proof", Infinity]]) {
    for (const job of part === "tag" ? jobs.slice(0, 1) : jobs) {
      for (const lang of ["en", "es"]) {
        const page = await open(up, `/jobs/${job}/${part}`, lang);
        const file = path.join(folder, `${job}-${part}-${lang}.pdf`);
        writeFileSync(file, await page.pdf({ format: "Letter", preferCSSPageSize: true }));
        const pages = Number(/^Pages:\s+(\d+)$/m.exec(execFileSync("pdfinfo", [file], { encoding: "utf8" }))[1]);
        check(`${part} of ${job} on paper (${lang})`, pages >= 1 && pages <= most, pages);
        if (part === "proof") {
          const title = await page.locator("h1").innerText();
          check(`proof of ${job} prints its head (${lang})`, execFileSync("pdftotext", [file, "-"], { encoding: "utf8" }).replace(/\s+/g, " ").includes(title.split("\n")[0].slice(0, 12)), title);
        }
        await page.context().close();
      }
    }
  }
  rmSync(folder, { recursive: true, force: true });
  await up.end();
}

export default [
  { name: "owner: each question against the plan, winter", quick: true, run: questions(DAYS[2]) },
  { name: "owner: each question against the plan, summer", run: questions(DAYS[1]) },
  { name: "owner: the morning is one screen", run: fits },
  { name: "owner: keyboard only", run: keyboard },
  { name: "owner: nothing to the console", run: silent },
  { name: "owner: paper", run: paper },
];
