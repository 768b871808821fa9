// What the phone shows of what it keeps: a line at the head of the page, a mark on the task it speaks
// of, and the list with undo. Undo is open for ten minutes; afterwards it is a correction. Either way
// the office keeps both.
import { all } from "./crew-store.js";
import { clockOff } from "./crew-send.js";
import { element, word } from "./crew-says.js";

export const UNDO_MILLIS = 10 * 60 * 1000;
const CLOCK_MINUTES = 5;

// "6:45 am", by this phone's own clock, the same in both languages.
export function clock(at) {
  const time = new Date(at);
  const hour = time.getHours();
  return `${hour % 12 || 12}:${String(time.getMinutes()).padStart(2, "0")} ${hour < 12 ? "am" : "pm"}`;
}

// "58°F, pad", "Layout: Started": in the page's language, whatever it was when it was written.
export function label(item) {
  const { kind, task, part, degf, why, note } = item.record;
  if (kind === "reading") return `${degf}°F, ${word(`part-${part}`)}`;
  if (task) return `${word(`task-${task}`)}: ${kind === "passed" ? word("pass") : word(`kind-${kind}`)}${why ? `, ${word(`why-${why}`)}` : ""}`;
  if (kind === "note" || kind === "photo") return `${word("wrong")}${note ? `: ${note}` : ""}`;
  return `${word(`kind-${kind}`)}${part ? `, ${word(`part-${part}`)}` : ""}`;
}

function stateOf(item) {
  if (item.undone) return word("item-undone");
  if (item.corrected) return word("item-corrected");
  return word({ waits: "item-waits", sent: "item-sent", refused: "item-refused" }[item.state] ?? "item-undone");
}

// Why the office refused it, and what to do about it.
export function reason(item) {
  if (item.why !== "field") return word(`why-${item.why}`);
  const what = item.field === "degf" ? "degrees-wrong" : item.field === "at" ? "time-wrong" : "other-wrong";
  return word("why-field", word(what));
}

function button(item, action) {
  return element("button", word(action), { type: "button", "data-do": action, "data-id": item.record.id });
}

function actions(item) {
  if (item.state === "refused") {
    const out = [button(item, "again"), button(item, "take-back")];
    if (item.photo) out.unshift(button(item, "without-photo"));
    return out;
  }
  if (item.undone || item.corrected || item.state === "dropped") return [];
  const out = [];
  if (item.record.kind === "photo" && !item.record.note) out.push(button(item, "words-add"));
  if (Date.now() - Date.parse(item.record.at) < UNDO_MILLIS) return [...out, button(item, "undo")];
  if (item.record.kind === "reading") out.push(button(item, "correct"));
  return [...out, button(item, "take-back")];
}

function row(item) {
  const made = element("li", "", { class: item.state });
  made.append(element("b", `${clock(item.record.at)} ${label(item)}`), element("span", `${item.jobName}, ${item.record.by}: ${stateOf(item)}`));
  if (item.state === "refused") made.append(element("span", reason(item)));
  const can = actions(item);
  if (can.length) {
    const row = element("div", "", { class: "acts" });
    row.append(...can);
    made.append(row);
  }
  return made;
}

function line(name, figure) {
  return element("p", word(name, figure));
}

// The head of the page: only what somebody has to know.
function headLines(items, stopped) {
  const out = [];
  const waits = items.filter((item) => item.state === "waits").length;
  const refused = items.filter((item) => item.state === "refused");
  if (Math.abs(clockOff()) > CLOCK_MINUTES) out.push(line("clock", Math.abs(clockOff())));
  if (stopped === "link") out.push(line("why-link"));
  if (waits) out.push(line("waiting", waits));
  for (const item of refused) {
    const told = element("a", `${label(item)}: ${word("item-refused")}. ${reason(item)}`, { href: "#mine", class: "big" });
    out.push(told);
  }
  return out;
}

// The newest word on each task of the page, from this phone.
function markTasks(items) {
  for (const mark of document.querySelectorAll(".task .marked")) mark.remove();
  for (const task of document.querySelectorAll(".task")) {
    const job = task.closest("article").dataset.job;
    const last = items.filter((item) => item.job === job && item.record.task === task.dataset.task && !item.undone && item.state !== "dropped").pop();
    if (!last) continue;
    task.append(element("span", `${clock(last.record.at)} ${label(last)}, ${stateOf(last)}`, { class: "marked" }));
  }
}

export async function show(stopped, more = []) {
  const items = (await all()).filter((item) => item.record.kind !== "corrected");
  const state = document.getElementById("state");
  state.replaceChildren(...more, ...headLines(items, stopped));
  markTasks(items);
  const list = document.querySelector(".mine");
  list.replaceChildren(...items.reverse().map(row));
  document.querySelector(".mine-none").hidden = items.length > 0;
}
