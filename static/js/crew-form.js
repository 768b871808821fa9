// A panel becomes a record: number pad, names one taps, photo, and what was typed stays until it is
// sent, also when the panel is closed or the tab is killed.
import { shrink } from "./crew-photo.js";
import { element, newId, tell, word } from "./crew-says.js";

const NAMES = "emberwait.names";
const NAMES_KEPT = 8;
const DRAFT = "emberwait.draft.";
const DRAFT_MILLIS = 12 * 3600 * 1000;
const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "-"];
const DEGF_LEAST = -60;
const DEGF_MOST = 200;
const photos = new WeakMap(); // form -> Promise of the small photo

function read(key, otherwise) {
  try {
    return JSON.parse(localStorage.getItem(key)) ?? otherwise;
  } catch {
    return otherwise;
  }
}

function write(key, value) {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // the draft and the name are a comfort; the record itself is kept elsewhere
  }
}

// --- names -----------------------------------------------------------------------------------------

function names() {
  return read(NAMES, []).filter((name) => typeof name === "string");
}

function rememberName(name) {
  write(NAMES, [name, ...names().filter((other) => other !== name)].slice(0, NAMES_KEPT));
}

// Those this phone has used, the latest first, then those the office gave phones to.
function showNames(form) {
  const place = form.querySelector(".names");
  const given = Array.from(place.querySelectorAll("button"), (one) => one.textContent);
  const known = [...new Set([...names(), ...given])].slice(0, NAMES_KEPT);
  place.replaceChildren(...known.map((name) => element("button", name, { type: "button", "data-name": name })));
  form.querySelector(".other").open = known.length === 0;
}

// --- drafts ----------------------------------------------------------------------------------------

function draftKey(form) {
  return `${DRAFT}${form.elements.job.value}.${form.elements.form.value}`;
}

function keepDraft(form) {
  const fields = [...new FormData(form)].filter(([name, value]) => typeof value === "string" && !["id", "done_id", "csrf"].includes(name));
  write(draftKey(form), { at: Date.now(), fields });
}

function restoreDraft(form) {
  const draft = read(draftKey(form), null);
  if (!draft || Date.now() - draft.at > DRAFT_MILLIS) return;
  for (const [name, value] of draft.fields) {
    const field = form.elements.namedItem(name);
    if (field && (field instanceof RadioNodeList || field.type !== "hidden")) field.value = value;
  }
}

// --- the number pad --------------------------------------------------------------------------------

function showKeys(form) {
  const place = form.querySelector(".keys");
  if (!place) return;
  const field = form.elements.degrees;
  field.inputMode = "none"; // the pad below is the keyboard
  field.dataset.fresh = "yes"; // the first key replaces the last reading
  place.replaceChildren(...KEYS.map((key) => element("button", key === "-" ? "−" : key, { type: "button", "data-key": key })));
  place.hidden = false;
  field.closest("label").after(element("button", "⌫", { type: "button", "data-key": "erase", class: "erase", "aria-label": word("erase") }));
}

function press(form, key) {
  const field = form.elements.degrees;
  const fresh = field.dataset.fresh === "yes";
  delete field.dataset.fresh;
  let text = fresh && key !== "erase" && key !== "-" ? "" : field.value;
  if (key === "erase") text = fresh ? "" : text.slice(0, -1);
  else if (key === "-") text = text.startsWith("-") ? text.slice(1) : `-${fresh ? "" : text}`;
  else if (key !== "." || !text.includes(".")) text += key;
  field.value = text.slice(0, 6);
  keepDraft(form);
}

// --- photos ----------------------------------------------------------------------------------------

async function takePhoto(form, input) {
  const file = input.files[0];
  if (!file) return;
  const label = input.closest("label");
  photos.set(form, shrink(file));
  for (const value of ["passed", "done"]) { // a photo means the work is there to be seen
    const radio = form.querySelector(`input[name=kind][value=${value}]`);
    if (radio) radio.checked = true;
  }
  try {
    await photos.get(form);
    label.classList.add("taken");
    label.querySelector("span").textContent = word("photo-taken");
  } catch {
    photos.delete(form);
    tell(word("photo-bad"));
  }
}

// --- a record --------------------------------------------------------------------------------------

function number(text) {
  const value = Number(text.trim().replace(",", "."));
  return text.trim() !== "" && Number.isFinite(value) ? value : null;
}

// 1/8, 1 1/4, 0.125
function figure(text) {
  const parts = /^(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(text.trim());
  if (!parts) return number(text);
  return Number(parts[3]) === 0 ? null : Number(parts[1] ?? 0) + Number(parts[2]) / Number(parts[3]);
}

class Missing extends Error {}

function checksOf(form, fields) {
  const out = [];
  for (const [name, text] of fields) {
    if (!name.startsWith("check.") || text.trim() === "") continue;
    const short = name.slice("check.".length);
    const field = form.elements.namedItem(name);
    const kind = field instanceof RadioNodeList ? "yes" : field.dataset.kind;
    const check = { check: short };
    if (kind === "yes") check.yes = text === "yes";
    else if (kind === "date") check.date = text;
    else if (kind === "text") check.text = text.trim();
    else {
      check.value = figure(text);
      const of = fields.get(`of.${short}`);
      if (of) check.of = figure(of);
      if (check.value === null || check.of === null) throw new Missing("check-wrong");
    }
    out.push(check);
  }
  return out;
}

function members(form, fields) {
  const kind = fields.get("kind");
  if (!kind) throw new Missing("no-choice");
  const out = { kind };
  if (kind === "reading") {
    const degf = number(fields.get("degrees"));
    if (degf === null) throw new Missing("no-degrees");
    if (degf < DEGF_LEAST || degf > DEGF_MOST) throw new Missing("degrees-wrong");
    return { ...out, part: fields.get("part"), how: fields.get("how") ?? "probe", degf };
  }
  if (fields.get("task")) {
    out.task = fields.get("task");
    if (kind === "stopped") {
      if (!fields.get("why")) throw new Missing("no-why");
      out.why = fields.get("why");
    }
    const checks = kind === "passed" ? checksOf(form, fields) : [];
    return checks.length ? { ...out, checks } : out;
  }
  const note = (fields.get("note") ?? "").trim();
  if (kind === "note") return note ? { ...out, note } : out;
  if (["closed-in", "opened"].includes(kind)) out.how = fields.get("shelter");
  if (!["covered", "uncovered"].includes(kind)) out.part = fields.get("part");
  return out;
}

// What a form becomes: the items in the order in which they are sent, and their photo.
export async function recordsOf(form, base) {
  const fields = new FormData(form);
  const by = (fields.get("by") ?? "").trim();
  if (!by) throw new Missing("no-name");
  const record = { id: newId(), at: new Date().toISOString().replace(/\.\d+Z$/, "Z"), by, ...members(form, fields) };
  const blob = await photos.get(form);
  const photo = blob ? { id: newId(), blob } : null;
  if (photo) record.photo = photo.id;
  if (record.kind === "note") {
    if (photo) record.kind = "photo";
    else if (!record.note) record.note = word("wrong");
  }
  const common = { base, job: fields.get("job"), jobName: form.querySelector("h2 small").textContent, state: "waits", group: record.id };
  const items = [{ ...common, record, photo: photo?.id ?? null }];
  if (record.kind === "passed" && fields.get("done_id"))
    items.unshift({ ...common, record: { id: newId(), at: record.at, by, kind: "done", task: record.task }, photo: null });
  rememberName(by);
  return { items, photo };
}

export function missing(fault) {
  return fault instanceof Missing ? fault.message : null;
}

// The form is sent: what was typed in it is done with.
export function clear(form) {
  localStorage.removeItem(draftKey(form));
  photos.delete(form);
  form.reset();
  for (const details of form.querySelectorAll("details:not(.other)")) details.open = false;
  const label = form.querySelector(".photo");
  if (label) {
    label.classList.remove("taken");
    label.querySelector("span").textContent = word("photo");
  }
  if (form.elements.degrees) form.elements.degrees.dataset.fresh = "yes";
}

// What a script adds to the forms of a page that works without one.
export function dress(root, canKeep) {
  for (const form of root.querySelectorAll(".panel form")) {
    showKeys(form);
    showNames(form);
    restoreDraft(form);
    const photo = form.querySelector(".photo");
    if (photo) photo.hidden = !canKeep;
    const allYes = form.querySelector(".all-yes");
    if (allYes) allYes.hidden = false;
  }
}

export function listen(root) {
  root.addEventListener("click", (event) => {
    const at = event.target.closest("button");
    const form = at?.closest("form");
    if (!form) return;
    if (at.dataset.key) press(form, at.dataset.key);
    if (at.classList.contains("all-yes")) {
      for (const radio of form.querySelectorAll(".yes input[value=yes]")) radio.checked = true;
      keepDraft(form);
    }
    if (at.dataset.name) {
      form.elements.by.value = at.dataset.name;
      form.requestSubmit();
    }
  });
  root.addEventListener("input", (event) => {
    const form = event.target.closest("form");
    if (!form || event.target.type === "file") return;
    if (event.target.name === "degrees") delete event.target.dataset.fresh;
    keepDraft(form);
  });
  root.addEventListener("change", (event) => {
    if (event.target.type === "file") takePhoto(event.target.closest("form"), event.target);
  });
}

export function showAllNames() {
  for (const form of document.querySelectorAll(".panel form")) showNames(form);
}
