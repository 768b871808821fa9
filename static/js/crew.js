// The crew's phone. The page works without this; with it nothing is lost when there is no signal: what
// is written is kept first and sent after, the page itself is kept by a worker, and comes back after
// lock, reload and restart.
import { markOld } from "./age.js";
import { clear, dress, listen, missing, recordsOf, showAllNames } from "./crew-form.js";
import { label, show } from "./crew-list.js";
import { element, hush, newId, tell, word } from "./crew-says.js";
import { askHead, send } from "./crew-send.js";
import { all, change, keep, keeps, dropPhoto, ready, tidy } from "./crew-store.js";

const TRY_AGAIN_MILLIS = 30000;
const FRESH_SECONDS = 120;
const main = document.getElementById("main");
const base = main.dataset.base;
const shown = new XMLSerializer().serializeToString(document); // as it came, for the worker to keep
let stopped = null;

function closePanel(job) {
  location.hash = job ? `#${job}` : "#main";
}

function openPanel() {
  return document.querySelector(".panel:target, .panel.open");
}

// --- what stands at the head -------------------------------------------------------------------------

function plainHttp() {
  if (isSecureContext) return [];
  return [element("p", word("plain-http"), { class: "plain-http" }), element("a", document.querySelector("a[href$='/sheet']").textContent, { href: `${base}/sheet`, class: "big" })];
}

function old() {
  const place = document.querySelector("[data-as-of]");
  markOld(document);
  return place.querySelector(".old").hidden ? [] : [element("p", word("old"), { class: "old" })];
}

async function refreshState() {
  const head = [...old()];
  if (!navigator.onLine || stopped === "signal") head.push(element("p", word("offline")));
  if (!keeps) head.push(element("p", word("no-store")));
  else head.push(...plainHttp());
  if (keeps) await show(stopped, head);
  else document.getElementById("state").replaceChildren(...head);
}

// --- sending -----------------------------------------------------------------------------------------

// The day as the office sees it now. Put in place only while nobody types in a panel.
async function refreshPage() {
  try {
    const answer = await fetch(base, { headers: { Accept: "text/html" }, cache: "no-store" });
    if (!answer.ok || openPanel()) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (openPanel() || fresh.documentElement.lang !== document.documentElement.lang) return;
    const next = document.adoptNode(fresh.getElementById("page"));
    document.getElementById("page").replaceWith(next);
    dress(next, keeps);
  } catch {
    // no signal: what stands there stays
  }
}

async function sendNow() {
  if (!keeps) return;
  const result = await send(base);
  stopped = result.stopped;
  if (result.sent) await refreshPage();
  await refreshState();
}

// --- writing down ------------------------------------------------------------------------------------

function undoButton(item) {
  return element("button", word("undo"), { type: "button", "data-do": "undo", "data-id": item.record.id });
}

async function submit(form) {
  try {
    const { items, photo } = await recordsOf(form, base);
    await keep(items, photo);
    clear(form);
    showAllNames();
    closePanel(form.closest(".panel").id.split("-")[0]);
    const last = items[items.length - 1];
    tell(`${label(last)}. ${word("kept")}`, undoButton(last));
    await refreshState();
    await sendNow();
    if ((await all()).some((item) => item.record.id === last.record.id && item.state === "sent") && document.querySelector(`#says [data-id="${last.record.id}"]`))
      tell(`${label(last)}. ${word("sent")}`, undoButton(last));
  } catch (fault) {
    const name = missing(fault);
    if (!name) throw fault;
    tell(word(name));
  }
}

function correction(item, corrected) {
  return {
    base: item.base,
    job: item.job,
    jobName: item.jobName,
    state: "waits",
    group: item.group,
    photo: null,
    record: { id: newId(), at: new Date().toISOString().replace(/\.\d+Z$/, "Z"), by: item.record.by, kind: "corrected", corrects: item.record.id, with: corrected },
  };
}

// Takes back what one tap wrote down, newest part first.
async function takeBack(item) {
  const group = (await all()).filter((other) => other.group === item.group && other.record.kind !== "corrected" && !other.undone);
  for (const one of group.reverse()) {
    if (one.state !== "refused") await keep([correction(one, null)], null);
    await change(Object.assign(one, { undone: true, state: one.state === "refused" ? "dropped" : one.state }));
    if (one.state === "dropped" && one.photo) await dropPhoto(one.photo);
  }
  tell(`${label(item)}: ${word("item-undone")}.`);
  await sendNow();
}

async function correct(item, more) {
  const body = { ...item.record, ...more };
  delete body.id;
  await keep([correction(item, body)], null);
  await change(Object.assign(item, { corrected: true }));
  tell(`${label({ ...item, record: { ...item.record, ...more } })}: ${word("item-corrected")}.`);
  await sendNow();
}

// The list asks for a new number or for words in place: nothing pops up, nothing is lost.
function askInPlace(at, item, field, value) {
  const input = element(field === "note" ? "textarea" : "input", "", { name: field, "aria-label": word(field === "note" ? "words-add" : "correct"), inputmode: field === "note" ? "text" : "decimal" });
  if (field !== "note") input.type = "text";
  input.value = value;
  const save = element("button", word("send"), { type: "button", "data-do": "save", "data-id": item.record.id });
  at.closest(".acts").replaceChildren(input, save);
  input.focus();
}

async function save(at, item) {
  const input = at.closest(".acts").querySelector("input, textarea");
  if (input.name === "note") return input.value.trim() && correct(item, { note: input.value.trim() });
  const degf = Number(input.value.replace(",", "."));
  if (input.value.trim() === "" || !(degf >= -60 && degf <= 200)) return tell(word("degrees-wrong"));
  return correct(item, { degf });
}

async function again(item, withoutPhoto) {
  item.state = "waits";
  item.why = null;
  if (withoutPhoto) {
    await dropPhoto(item.photo);
    item.photo = null;
    item.record = { ...item.record };
    delete item.record.photo;
    if (item.record.kind === "photo") Object.assign(item.record, { kind: "note", note: item.record.note ?? word("wrong") });
  } else if (item.why === "clash") {
    item.record = { ...item.record, id: newId() };
  }
  await change(item);
  await sendNow();
}

async function act(at) {
  const item = (await all()).find((other) => other.record.id === at.dataset.id);
  if (!item) return;
  const what = at.dataset.do;
  if (what === "undo" || what === "take-back") await takeBack(item);
  else if (what === "correct") askInPlace(at, item, "degf", item.record.degf);
  else if (what === "words-add") askInPlace(at, item, "note", "");
  else if (what === "save") await save(at, item);
  else await again(item, what === "without-photo");
}

// --- the start ---------------------------------------------------------------------------------------

async function keepPage(headers) {
  if (!("serviceWorker" in navigator) || !isSecureContext) return;
  await navigator.serviceWorker.register("/static/js/keep.js", { scope: "/c/" });
  const worker = (await navigator.serviceWorker.ready).active;
  worker.postMessage({ keep: base, lang: document.documentElement.lang, html: shown, headers });
}

function listenAll() {
  listen(main);
  main.addEventListener("submit", (event) => {
    if (!keeps) return; // the browser posts the form itself
    event.preventDefault();
    submit(event.target);
  });
  document.addEventListener("click", (event) => {
    const at = event.target.closest("[data-do]");
    if (at) act(at);
  });
  window.addEventListener("hashchange", () => {
    const panel = document.querySelector(".panel:target");
    if (panel) {
      hush();
      panel.querySelector("h2").focus({ preventScroll: true });
      window.scrollTo(0, 0);
    }
    for (const opened of document.querySelectorAll(".panel.open")) opened.classList.remove("open");
  });
  window.addEventListener("online", sendNow);
  window.addEventListener("offline", refreshState);
  document.addEventListener("visibilitychange", () => document.hidden || sendNow());
  setInterval(() => document.hidden || sendNow(), TRY_AGAIN_MILLIS);
}

await ready();
dress(main, keeps);
listenAll();
if (keeps) await tidy();
const asOf = Number(document.querySelector("[data-as-of]").dataset.asOf);
await refreshState();
const headers = await askHead(base);
if (headers) keepPage(headers).catch(() => {});
await sendNow();
if (Date.now() / 1000 - asOf > FRESH_SECONDS && !openPanel()) {
  await refreshPage();
  await refreshState();
}
document.documentElement.dataset.ready = "yes";
