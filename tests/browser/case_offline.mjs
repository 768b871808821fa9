// SPDX-License-Identifier: MIT
// A day with no signal: the page opens after lock, reload, a killed tab and a restarted browser; what
// was written, photos too, goes later, in order, each once; what the office refuses is not lost.
import { check, camera, Daemon, Line, Phone, phoneTime, shot, until } from "./lib.mjs";
import { crewOn, on, setName, stageOf } from "./case_crew.mjs";

async function mine(daemon, by = "Ines") {
  return (await daemon.records(on.job)).filter((one) => one.by === by);
}

async function type(page, digits, name = "Ines") {
  await page.locator(`#${on.j} .bar a`).first().tap();
  for (const key of digits) await page.locator(`#${on.j}-reading [data-key="${key}"]`).tap();
  await page.locator(`#${on.j}-reading [data-name=${name}]`).tap();
  await until(`${digits} is kept`, async () => (await page.textContent("#says")).includes(`${digits}°F`));
}

async function airplane({ line, phone }) {
  line.cut();
  await phone.context.setOffline(true);
}

async function landed({ line, phone }) {
  line.pass();
  await phone.context.setOffline(false);
}

async function fullDay(exe) {
  const all = await crewOn(exe);
  const { daemon, line, phone, at } = all;
  let page = all.page;
  await setName(page);
  await phone.kept(line.url(at));
  await airplane(all);
  await type(page, "51");
  check("no signal is said in words", (await page.textContent("#state")).includes("No signal"));
  await page.reload();
  await phone.ready();
  check("a reload with no signal shows the day", await page.isVisible(".task"));
  await until("what is kept is counted", async () => (await page.textContent("#state")).includes("1 kept here"));
  await page.locator(".switch").tap();
  await page.waitForSelector("html[lang=es][data-ready]");
  check("the other language is there with no signal", (await page.textContent("#state")).includes("Sin señal"));
  await page.goto(line.url(at));
  await phone.ready();
  check("and is remembered with no signal", (await page.getAttribute("html", "lang")) === "es");
  await page.close();
  page = await phone.open(line.url(at));
  check("a killed tab opens again", await page.isVisible(".task"));
  const picture = await camera(page, 2000);
  await page.locator(on.link).tap();
  await page.setInputFiles(`${on.panel} input[type=file]`, picture);
  await page.waitForSelector(`${on.panel} .photo.taken`);
  await page.locator(`${on.panel} [data-name]`).tap();
  await until("the task shows what the phone keeps", async () => (await page.textContent(`${on.link} .marked`)).includes("guardado aquí"));
  await shot(page, "crew-offline-es");
  await phone.off();
  await daemon.stop();
  await daemon.start();
  await phone.on({ minutes: 2 });
  line.cut();
  page = await phone.open(line.url(at));
  await phone.context.setOffline(true);
  check("a restarted browser opens the day", await page.isVisible(".task"));
  await until("and has kept all of it", async () => (await page.textContent("#state")).includes("3 guardado"));
  await type(page, "52");
  check("nothing was sent", (await mine(daemon)).length === 0);
  await landed(all);
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
  await until("everything arrives", async () => (await mine(daemon)).length === 4);
  const got = await mine(daemon);
  check("in the order it was written", got.map((one) => one.kind).join() === "reading,done,passed,reading", got.map((one) => one.kind));
  check("with the time it was taken, and when it came", got.every((one, i) => one.received && (i === 0 || one.at >= got[i - 1].at)), got.map((one) => one.at));
  check("the photo too", line.log.some((one) => one.method === "PUT" && one.url.includes(got[2].photo) && one.status === 201));
  await until("the phone says it was sent", async () => !(await page.textContent("#state")).includes("guardado"));
  await all.end();
}

async function once(exe) {
  const all = await crewOn(exe);
  const { daemon, line, page } = all;
  await setName(page);
  line.mode = "swallow";
  line.only = /^POST/;
  await type(page, "47");
  await until("the office has it though the phone never heard", async () => (await mine(daemon)).length === 1);
  check("the phone still keeps it", (await page.textContent("#state")).includes("1 kept here"));
  line.pass();
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
  await until("it is sent again and known", async () => !(await page.textContent("#state")).includes("kept here"));
  check("and is there once", (await mine(daemon)).length === 1);
  line.mode = "broken";
  line.only = /^POST/;
  await type(page, "48");
  await type(page, "49");
  check("a broken office loses nothing", (await page.textContent("#state")).includes("2 kept here"));
  line.pass();
  await page.evaluate(() => { window.dispatchEvent(new Event("online")); window.dispatchEvent(new Event("online")); });
  await until("both arrive when it is mended", async () => (await mine(daemon)).length === 3);
  check("in order, each once", (await mine(daemon)).map((one) => one.degf).join() === "47,48,49", await mine(daemon));
  await all.end();
}

async function partly(exe) {
  const all = await crewOn(exe);
  const { daemon, line, page, phone } = all;
  await setName(page);
  await airplane(all);
  for (const digits of ["41", "42", "43"]) await type(page, digits);
  let posts = 0;
  const take = line.take.bind(line);
  line.take = (request, answer) => (request.method === "POST" && ++posts > 1 ? request.socket.destroy() : take(request, answer));
  await landed(all); // which sends by itself
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
  await until("one gets through", async () => (await mine(daemon)).length === 1);
  await until("two wait", async () => (await page.textContent("#state")).includes("2 kept here"));
  line.take = take;
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
  await until("the rest follows", async () => (await mine(daemon)).map((one) => one.degf).join() === "41,42,43");
  await all.end();
}

async function refused(exe) {
  const all = await crewOn(exe);
  const { daemon, line, page } = all;
  await setName(page);
  const take = line.take.bind(line);
  let status = 422;
  line.take = (request, answer) => {
    if (request.method !== "POST") return take(request, answer);
    request.resume();
    answer.writeHead(status, { "Content-Type": "application/problem+json" });
    return answer.end(JSON.stringify({ type: "about:blank", title: "no", status, faults: [{ path: "[0].degf", found: "x", wanted: "y" }] }));
  };
  await type(page, "44");
  await until("why is said, with what to do", async () => (await page.textContent("#state")).includes("a number from -60 to 200. Write it down again"));
  await shot(page, "crew-refused");
  line.take = take;
  await type(page, "45");
  await until("one that was refused does not hold up the next", async () => (await mine(daemon)).some((one) => one.degf === 45));
  check("the refused one is still there", (await page.textContent("#state")).includes("44°F"));
  await page.locator("#state a[href='#mine']").tap();
  await page.locator(".mine [data-do=again]").tap();
  await until("trying again works", async () => (await mine(daemon)).some((one) => one.degf === 44));
  status = 403;
  line.take = (request, answer) => (request.method === "POST" ? (request.resume(), answer.writeHead(status).end()) : take(request, answer));
  await page.locator("#mine .back").tap();
  await type(page, "46");
  await until("a job of another crew is said so", async () => (await page.textContent("#state")).includes("Not one of this crew's jobs"));
  line.take = take;
  await all.end();
}

async function noRoom(exe) {
  const all = await crewOn(exe);
  const { daemon, line, page } = all;
  await setName(page);
  const take = line.take.bind(line);
  line.take = (request, answer) => (request.method === "PUT" ? (request.resume(), answer.writeHead(507).end()) : take(request, answer));
  await page.locator(`#${on.j} .bar a >> nth=1`).tap();
  await page.setInputFiles(`#${on.j}-wrong input[type=file]`, await camera(page, 800));
  await page.waitForSelector(`#${on.j}-wrong .photo.taken`);
  await page.locator(`#${on.j}-wrong [data-name]`).tap();
  await until("no room is said, with what to do", async () => (await page.textContent("#state")).includes("no room for photos"));
  await page.locator("#state a[href='#mine']").tap();
  await page.locator(".mine [data-do=without-photo]").tap();
  await until("it goes without the photo", async () => (await mine(daemon)).some((one) => one.kind === "note" && !one.photo));
  await all.end();
}

async function newLink(exe) {
  const all = await crewOn(exe);
  const { daemon, line, page, phone } = all;
  await setName(page);
  await phone.kept(line.url(all.at));
  await airplane(all);
  await type(page, "39");
  const api = `http://127.0.0.1:${daemon.port}/api/v1/links/crew/river`;
  await fetch(api, { method: "DELETE" });
  const link = await (await fetch(api, { method: "PUT" })).json();
  await landed(all);
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
  await until("a link that was switched off is said so", async () => (await page.textContent("#state")).includes("switched off"));
  check("and nothing is lost", (await page.textContent("#state")).includes("1 kept here"));
  await page.goto(line.url(new URL(link.url ?? link.path, "http://x").pathname));
  await phone.ready();
  await until("the new link sends it", async () => (await mine(daemon)).some((one) => one.degf === 39));
  await all.end();
}

async function twoPhones(exe) {
  const all = await crewOn(exe);
  const { daemon, line, page, at } = all;
  await setName(page);
  const second = await new Phone("second").on();
  await second.open(line.url(at));
  await setName(second.page, "Beto");
  await airplane(all);
  await second.context.setOffline(true);
  await type(page, "55");
  await type(second.page, "55", "Beto");
  await landed(all);
  await second.context.setOffline(false);
  for (const one of [page, second.page]) await one.evaluate(() => window.dispatchEvent(new Event("online")));
  await until("both phones' readings are kept", async () => (await mine(daemon)).length === 1 && (await mine(daemon, "Beto")).length === 1);
  check("no script failed on the second phone", second.faults.length === 0, second.faults.join("|"));
  await second.drop();
  await all.end();
}

async function wrongClock(exe) {
  const all = await crewOn(exe, { minutes: 63 });
  const { daemon, page } = all;
  await setName(page);
  await until("a clock an hour off is said with what to do", async () => /clock is 60 min off. Set it to automatic/.test(await page.textContent("#state")));
  await shot(page, "crew-clock");
  await type(page, "50");
  await until("the reading is taken all the same", async () => (await mine(daemon)).length === 1);
  const [got] = await mine(daemon);
  const ahead = (Date.parse(got.at) - Date.parse(got.received)) / 60000;
  check("both times are kept: taken by the phone, received by the office", ahead > 55 && ahead < 65, ahead, String(phoneTime(63)));
  await all.end();
}

async function plainHttp(exe) {
  const daemon = await new Daemon(exe).start();
  await daemon.stop();
  await daemon.start("serve", "--host", "yard.test");
  const line = await new Line(daemon).open();
  const phone = await new Phone("http").on();
  const page = await phone.open(line.url(daemon.links["river crew"], "yard.test"));
  await stageOf(page);
  check("the test is not a secure context", await page.evaluate(() => !isSecureContext));
  const says = await page.textContent("#state");
  check("plain http says what it cannot do", says.includes("not https") && says.includes("print the day sheet"), says);
  check("and gives the sheet", (await page.getAttribute("#state a", "href")).endsWith("/sheet"));
  await shot(page, "crew-http");
  await setName(page);
  line.cut();
  await type(page, "53");
  line.pass();
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
  await until("what was written still goes later", async () => (await mine(daemon)).length === 1);
  await phone.drop();
  await line.drop();
  await daemon.drop();
}

async function old(exe) {
  const all = await crewOn(exe);
  const { page, phone, line, at } = all;
  await phone.kept(line.url(at));
  check("a fresh page does not say OLD", !(await page.textContent("#state")).includes("OLD"));
  await airplane(all);
  await phone.context.clock.fastForward(13 * 3600 * 1000);
  await page.reload();
  await phone.ready();
  check("after twelve hours the page says OLD in words", (await page.textContent("#state")).includes("OLD: more than 12 hours"));
  await shot(page, "crew-old");
  await all.end();
}

export default [
  { name: "offline: a full day", quick: true, run: fullDay },
  { name: "offline: each record exactly once", run: once },
  { name: "offline: partial sends", run: partly },
  { name: "offline: what is refused is not lost", run: refused },
  { name: "offline: no room for photos", run: noRoom },
  { name: "offline: a new link", run: newLink },
  { name: "offline: two phones", run: twoPhones },
  { name: "offline: a wrong clock", run: wrongClock },
  { name: "offline: plain http", run: plainHttp },
  { name: "offline: OLD", run: old },
];
