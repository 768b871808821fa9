// SPDX-License-Identifier: MIT
// The crew's phone with signal: what each tap writes down, in how many taps, how big the targets are,
// both languages, keyboard only, undo and correction, photo, a hold point.
import { axe, camera, check, Daemon, jpegSize, Line, noSideways, Phone, shot, until } from "./lib.mjs";

const THUMB = 95; // 15 mm where 160 px make an inch

// Where today's plan puts what a case needs: a task that is passed with a photo and by measures, its
// job, and the panels of that job.
export let on = null;

async function stage(page) {
  return page.evaluate(() => {
    const fits = (one) => one.querySelector("input[value=started]:checked") && one.querySelector("input[value=passed]") && one.querySelector(".photo") && one.querySelector(".checks [data-kind=measure]");
    const id = [...document.querySelectorAll(".panel")].find(fits).id;
    const j = id.split("-")[0];
    return { j, job: document.getElementById(j).dataset.job, task: id.slice(j.length + 1), panel: `#${id}`, link: `.task[href="#${id}"]` };
  });
}

export async function stageOf(page) {
  on = await stage(page);
}

// What was written may have changed the order of the day: the same job where it stands now, else the first.
async function whereNow(page) {
  const [j, job] = await page.evaluate((id) => {
    const article = [...document.querySelectorAll("article")].find((one) => one.dataset.job === id) ?? document.querySelector("article");
    return [article.id, article.dataset.job];
  }, on.job);
  on = { ...on, j, job, panel: `#${j}-${on.task}`, link: `.task[href="#${j}-${on.task}"]` };
}

// A phone on the river crew's page.
export async function crewOn(exe, options = {}) {
  const daemon = await new Daemon(exe).start();
  const line = await new Line(daemon).open();
  const phone = await new Phone().on(options);
  const at = daemon.links["river crew"];
  on = await stage(await phone.open(line.url(at)));
  return {
    daemon, line, phone, at, page: phone.page,
    end: async () => {
      check("no script failed on the phone", phone.faults.length === 0, phone.faults.join(" | "));
      await phone.drop();
      await line.drop();
      await daemon.drop();
    },
  };
}

// Taps are counted: what a person does, not what a script could do.
export class Thumb {
  constructor(page) {
    this.page = page;
    this.taps = 0;
  }

  async tap(where) {
    this.taps++;
    await this.page.locator(where).first().tap();
  }
}

export async function setName(page, name = "Ines") {
  await page.evaluate((who) => localStorage.setItem("emberwait.names", JSON.stringify([who])), name);
  await page.reload();
  await page.waitForSelector("html[data-ready]");
}

const has = (records, want) => records.find((one) => Object.entries(want).every(([key, value]) => one[key] === value));

async function arrives(daemon, want, what) {
  let found;
  await until(what, async () => (found = has(await daemon.records(on.job), want)));
  return found ?? {};
}

async function reading(exe) {
  const { daemon, page, end } = await crewOn(exe);
  await page.locator(`#${on.j} .bar a`).first().tap();
  await page.fill(`#${on.j}-reading input[name=by]`, "Ines");
  for (const key of ["5", "8"]) await page.locator(`#${on.j}-reading [data-key="${key}"]`).tap();
  check("the first key replaces the last reading", (await page.inputValue(`#${on.j}-reading input[name=degrees]`)) === "58");
  await page.locator(`#${on.j}-reading button[type=submit]`).tap();
  const first = await arrives(daemon, { kind: "reading", degf: 58, by: "Ines" }, "the first reading arrives");
  check("it says who, which part and how", first.by === "Ines" && first.part && first.how === "probe", first);
  check("it has two times", Boolean(first.at && first.received));
  const thumb = new Thumb(page);
  await thumb.tap(`#${on.j} .bar a`);
  for (const key of ["6", "1"]) await thumb.tap(`#${on.j}-reading [data-key="${key}"]`);
  await thumb.tap(`#${on.j}-reading [data-name=Ines]`);
  await arrives(daemon, { kind: "reading", degf: 61, by: "Ines" }, "the second reading arrives");
  check("a reading takes five taps or fewer", thumb.taps <= 5, thumb.taps);
  await until("the page says it is written down", async () => (await page.textContent("#says")).includes("Written down"));
  await axe(page, "the crew page after a reading", { "target-size": { enabled: true } });
  await noSideways(page, "the crew page");
  await end();
}

async function everyTap(exe) {
  const { daemon, page, end } = await crewOn(exe);
  await setName(page);
  const steps = {
    started: () => [on.link, `${on.panel} input[value=started] + span`, `${on.panel} [data-name]`],
    stopped: () => [on.link, `${on.panel} input[value=stopped] + span`, `${on.panel} input[value=rain] + span`, `${on.panel} [data-name]`],
    "closed-in": () => [`a.big[href='#${on.j}-shelter']`, `#${on.j}-shelter input[value=closed-in] + span`, `#${on.j}-shelter [data-name]`],
    note: () => [`#${on.j} .bar a >> nth=1`, `#${on.j}-wrong [data-name]`],
  };
  for (const [kind, taps] of Object.entries(steps)) {
    const thumb = new Thumb(page);
    for (const one of taps()) await thumb.tap(one);
    const found = await arrives(daemon, { kind, by: "Ines" }, `${kind} arrives`);
    check(`${kind} takes five taps or fewer`, thumb.taps <= 5, thumb.taps);
    if (kind === "stopped") check("it says why it stopped", found.why === "rain", found);
    if (kind === "closed-in") check("a blanket on what stands there", found.how === "blanket" && ["unit", "pad"].includes(found.part), found);
    await until("the panel is closed", () => page.evaluate(() => !document.querySelector(".panel:target")));
    await until("the day is as the office sees it now", async () => !(await page.textContent("#state")).includes("kept here"));
    await page.reload();
    await page.waitForSelector("html[data-ready]");
    await whereNow(page);
  }
  check("the boss is one tap away", (await page.getAttribute(".bar .boss", "href")).startsWith("tel:"));
  await end();
}

async function holdPoint(exe) {
  const { daemon, line, phone, page, end } = await crewOn(exe);
  await setName(page);
  const picture = await camera(page);
  check("the camera's picture is large", picture.buffer.length > 1_000_000, picture.buffer.length);
  const thumb = new Thumb(page);
  await thumb.tap(on.link);
  thumb.taps += 3; // the button, the shutter, "use it"
  await page.setInputFiles(`${on.panel} input[type=file]`, picture);
  await page.waitForSelector(`${on.panel} .photo.taken`);
  check("a photo presses the pass", await page.isChecked(`${on.panel} input[value=passed]`));
  await shot(page, "crew-hold-photo");
  await thumb.tap(`${on.panel} [data-name]`);
  const passed = await arrives(daemon, { kind: "passed", task: on.task }, "the pass arrives");
  check("a hold point with its photo takes five taps or fewer", thumb.taps <= 5, thumb.taps);
  check("it was called done by the same tap", Boolean(has(await daemon.records(on.job), { kind: "done", task: on.task, by: "Ines" })));
  const put = line.log.findIndex((one) => one.method === "PUT" && one.url.includes(passed.photo));
  check("the photo goes before its record", put >= 0 && line.log[put].status === 201 && put < line.log.map((one) => one.method).lastIndexOf("POST"));
  const kept = await fetch(line.url(line.log[put].url.split("?")[0]));
  const bytes = Buffer.from(await kept.arrayBuffer());
  check("it was made small on the phone", bytes.length < 220 * 1024, bytes.length);
  const size = jpegSize(bytes);
  check("its long side is at most 1600", Math.max(...size) <= 1600 && Math.max(...size) > 700, size);
  await until("the task is passed for the office", async () => {
    const plan = await daemon.json(`/api/v1/jobs/${on.job}/plan`);
    return (plan.jobs ?? [plan]).flatMap((job) => job.tasks ?? []).find((one) => one.task === on.task)?.state === "passed";
  });
  await end();
}

async function measures(exe) {
  const { daemon, page, end } = await crewOn(exe);
  await setName(page);
  const panel = on.panel;
  await page.locator(on.link).tap();
  await page.locator(`${panel} input[value=passed] + span`).tap();
  await page.locator(`${panel} .checks > summary`).tap();
  await shot(page, "crew-hold-checks");
  await axe(page, "a hold point with its checks open");
  await noSideways(page, "a hold point");
  const fields = await page.$$eval(`${panel} .checks input[type=text]`, (all) => all.map((one) => one.name));
  for (const name of fields) await page.fill(`${panel} [name="${name}"]`, "about a thumb");
  await page.locator(`${panel} [data-name]`).tap();
  await until("a figure that is none is asked for again", async () => (await page.textContent("#says")).includes("1/8"));
  check("and what was typed is still there", (await page.inputValue(`${panel} [name="${fields[0]}"]`)) === "about a thumb");
  for (const name of fields) await page.fill(`${panel} [name="${name}"]`, "1/16");
  await page.evaluate((at) => document.querySelectorAll(`${at} .yes input[value=yes]`).forEach((one) => one.click()), panel);
  await page.locator(`${panel} [data-name]`).tap();
  const passed = await arrives(daemon, { kind: "passed", task: on.task }, "the measured pass arrives");
  check("its figures are numbers", (passed.checks ?? []).some((one) => one.value === 0.0625), passed.checks);
  await end();
}

async function undo(exe) {
  const { daemon, page, phone, end } = await crewOn(exe);
  await setName(page);
  await page.locator(on.link).tap();
  await page.locator(`${on.panel} [data-name]`).tap();
  const started = await arrives(daemon, { kind: "started", task: on.task, by: "Ines" }, "the start arrives");
  await page.locator("#says [data-do=undo]").tap();
  const back = await arrives(daemon, { kind: "corrected", corrects: started.id }, "the undo arrives");
  check("the undo withdraws it and keeps both", back.with === null && Boolean(has(await daemon.records(on.job), { id: started.id })), back);
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  await whereNow(page);
  await page.locator(`#${on.j} .bar a`).first().tap();
  for (const key of ["4", "4"]) await page.locator(`#${on.j}-reading [data-key="${key}"]`).tap();
  await page.locator(`#${on.j}-reading [data-name]`).tap();
  const wrong = await arrives(daemon, { kind: "reading", degf: 44, by: "Ines" }, "a mistyped reading arrives");
  await phone.context.clock.fastForward(11 * 60 * 1000);
  await page.locator("a[href='#mine']").last().tap();
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  const row = page.locator(`.mine li:has([data-id="${wrong.id}"])`);
  check("after ten minutes there is no undo", (await row.locator("[data-do=undo]").count()) === 0);
  await row.locator("[data-do=correct]").tap();
  await page.fill(".mine input[name=degf]", "54");
  await shot(page, "crew-mine");
  await axe(page, "the list of what was written down");
  await page.locator(".mine [data-do=save]").tap();
  const right = await arrives(daemon, { kind: "corrected", corrects: wrong.id }, "the correction arrives");
  check("it keeps the time it was taken and has the new number", right.with?.degf === 54 && right.with?.at === wrong.at, right);
  await end();
}

async function typedStays(exe) {
  const { page, phone, at, line, end } = await crewOn(exe);
  await page.locator(`#${on.j} .bar a`).first().tap();
  for (const key of ["6", "7"]) await page.locator(`#${on.j}-reading [data-key="${key}"]`).tap();
  await page.locator(`#${on.j}-reading .back`).tap();
  check("back shows the day", await page.isVisible(".day"));
  await page.locator(`#${on.j} .bar a`).first().tap();
  check("a closed panel keeps the number", (await page.inputValue(`#${on.j}-reading input[name=degrees]`)) === "67");
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  check("a reload keeps the number", (await page.inputValue(`#${on.j}-reading input[name=degrees]`)) === "67");
  await phone.off();
  await phone.on();
  await phone.open(line.url(`${at}#${on.j}-reading`));
  check("a killed browser keeps the number", (await phone.page.inputValue(`#${on.j}-reading input[name=degrees]`)) === "67");
  await phone.page.fill(`#${on.j}-reading input[name=degrees]`, "300");
  await phone.page.fill(`#${on.j}-reading input[name=by]`, "Ines");
  await phone.page.locator(`#${on.j}-reading button[type=submit]`).tap();
  await until("a number that cannot be is said at once", async () => (await phone.page.textContent("#says")).includes("-60 to 200"));
  check("and stays to be changed", (await phone.page.inputValue(`#${on.j}-reading input[name=degrees]`)) === "300");
  await end();
}

async function targets(exe) {
  const { page, phone, line, at, end } = await crewOn(exe);
  await setName(page);
  for (const lang of ["en", "es"]) {
    await page.goto(line.url(`${at}?lang=${lang}`));
    await page.waitForSelector("html[data-ready]");
    const panels = await page.$$eval(".panel", (all) => all.map((one) => one.id));
    for (const hash of ["", ...panels]) {
      await page.evaluate((to) => { location.hash = to; }, hash);
      await page.evaluate(() => document.querySelectorAll(".panel:target details").forEach((one) => { one.open = true; }));
      const small = await page.evaluate((least) => {
        const out = [];
        for (const one of document.querySelectorAll("a, button, summary, input, textarea, .picks label > span, .photo > span")) {
          const box = one.getBoundingClientRect();
          if (box.width === 0 || box.left < -900 || one.matches(".picks input, .photo input, .skip")) continue;
          if (box.width < least || box.height < least) out.push(`${one.tagName} ${one.textContent.slice(0, 20)} ${Math.round(box.width)}x${Math.round(box.height)}`);
        }
        return out;
      }, THUMB);
      check(`every target is 15 mm: ${lang} #${hash}`, small.length === 0, small.join(", "));
      await noSideways(page, `${lang} #${hash}`);
      const clipped = await page.evaluate(() => [...document.querySelectorAll("a, button, summary, .picks label > span")].filter((one) => one.getClientRects().length && one.scrollWidth > one.clientWidth + 1).map((one) => one.textContent.trim().slice(0, 30)));
      check(`no word runs out of its button: ${lang} #${hash}`, clipped.length === 0, clipped.join(", "));
      if (/^$|^j1-(reading|shelter|wrong)|mine/.test(hash) || `#${hash}` === on.panel) await axe(page, `the crew page, ${lang} #${hash}`, { "color-contrast-enhanced": { enabled: true } });
      await shot(page, `crew-${lang}-${hash || "day"}`);
    }
  }
  await page.setViewportSize({ width: 320, height: 640 });
  for (const hash of ["", `${on.j}-reading`, on.panel.slice(1), "mine"]) {
    await page.evaluate((to) => { location.hash = to; }, hash);
    await noSideways(page, `320 px #${hash}`);
  }
  check("both languages were the same phone", phone.faults.length === 0, phone.faults.join("|"));
  await end();
}

async function keyboard(exe) {
  const { daemon, page, end } = await crewOn(exe);
  await setName(page, "Ana");
  const focus = async (selector) => {
    for (let i = 0; i < 120; i++) {
      await page.keyboard.press("Tab");
      if (await page.evaluate((at) => document.activeElement.matches(at), selector)) return true;
    }
    return check(`Tab reaches ${selector}`, false);
  };
  await focus(on.link);
  const ring = await page.evaluate(() => getComputedStyle(document.activeElement).outlineWidth);
  check("what has the focus is seen to have it", parseFloat(ring) >= 3, ring);
  await page.keyboard.press("Enter");
  await focus(`${on.panel} input[name=kind]`);
  await page.keyboard.press("ArrowRight");
  check("arrows choose", await page.isChecked(`${on.panel} input[value=passed]`));
  await focus(`${on.panel} [data-name=Ana]`);
  await page.keyboard.press("Enter");
  await arrives(daemon, { kind: "passed", task: on.task, by: "Ana" }, "a pass by keyboard arrives");
  await page.goBack();
  await end();
}

async function language(exe) {
  const { page, line, at, end } = await crewOn(exe);
  const figures = () => page.$eval(".day", (day) => day.textContent.replace(/[^0-9]+/g, " ").trim());
  const english = await figures();
  await page.locator(".switch").tap();
  await page.waitForSelector("html[lang=es][data-ready]");
  check("Spanish shows the same numbers", (await figures()) === english);
  await page.goto(line.url(at));
  await page.waitForSelector("html[data-ready]");
  check("the language is remembered", (await page.getAttribute("html", "lang")) === "es");
  await page.locator(`#${on.j} .bar a`).first().tap();
  await page.fill(`#${on.j}-reading input[name=by]`, "Ana");
  await page.locator(`#${on.j}-reading [data-key='7']`).tap();
  await page.locator(`#${on.j}-reading button[type=submit]`).tap();
  await until("what is said is in Spanish", async () => (await page.textContent("#says")).includes("Anotado"));
  await end();
}

async function noScript(exe) {
  const daemon = await new Daemon(exe).start();
  const line = await new Line(daemon).open();
  const phone = await new Phone("plain").on({ javaScriptEnabled: false });
  const page = await phone.context.newPage();
  const at = daemon.links["river crew"];
  await page.goto(line.url(`${at}?lang=es`));
  on = await stage(page);
  await page.locator(`#${on.j} .bar a`).first().tap();
  await page.fill(`#${on.j}-reading input[name=degrees]`, "57");
  await page.fill(`#${on.j}-reading input[name=by]`, "Ana");
  await page.locator(`#${on.j}-reading button[type=submit]`).tap();
  await arrives(daemon, { kind: "reading", degf: 57, by: "Ana" }, "a reading arrives without a script");
  await page.locator(`#${on.j} .bar a`).first().tap();
  await page.fill(`#${on.j}-reading input[name=degrees]`, "hot");
  await page.fill(`#${on.j}-reading input[name=by]`, "Ana");
  await page.locator(`#${on.j}-reading button[type=submit]`).tap();
  await until("the refusal is in Spanish", async () => (await page.textContent(`#${on.j}-reading`)).includes("Grados: un número"));
  check("with what was typed", (await page.inputValue(`#${on.j}-reading input[name=degrees]`)) === "hot");
  await page.goto(line.url(at));
  await page.locator(on.link).tap();
  await page.locator(`${on.panel} input[value=passed] + span`).tap();
  await page.fill(`${on.panel} input[name=by]`, "Ana");
  await page.locator(`${on.panel} button[type=submit]`).tap();
  await arrives(daemon, { kind: "done", task: on.task }, "a pass without a script says done");
  await arrives(daemon, { kind: "passed", task: on.task }, "and passed");
  await phone.drop();
  await line.drop();
  await daemon.drop();
}

export default [
  { name: "crew: a reading", quick: true, run: reading },
  { name: "crew: each thing in five taps", run: everyTap },
  { name: "crew: a hold point with its photo", run: holdPoint },
  { name: "crew: measures of a hold point", run: measures },
  { name: "crew: undo, then correction", run: undo },
  { name: "crew: what is typed stays", run: typedStays },
  { name: "crew: targets, contrast and axe in every panel, both languages", run: targets },
  { name: "crew: keyboard only", run: keyboard },
  { name: "crew: two languages", run: language },
  { name: "crew: without a script", run: noScript },
];
