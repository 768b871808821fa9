// Sends a form in the background. What cannot be sent is kept on this device and sent later, with the
// time at which it was typed; each form carries the id of its record, so sending twice stores once.
import { say } from "./says.js";

const KEPT = "emberwait.kept";
const CLOCK_MINUTES = 5;
const WEEK_MILLIS = 7 * 24 * 3600 * 1000;
let sending = false;

export function readKept(store = localStorage) {
  try {
    const kept = JSON.parse(store.getItem(KEPT) ?? "[]");
    return Array.isArray(kept) ? kept : [];
  } catch {
    return [];
  }
}

function writeKept(kept) {
  localStorage.setItem(KEPT, JSON.stringify(kept));
}

function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

function checkClock(answer) {
  const date = Date.parse(answer.headers.get("date") ?? "");
  if (Number.isNaN(date)) return;
  const minutes = Math.round(Math.abs(Date.now() - date) / 60000);
  if (minutes > CLOCK_MINUTES) say("clock-skew", minutes);
}

async function post(item) {
  const answer = await fetch(item.action, {
    method: "POST",
    headers: { "Content-Type": "application/x-www-form-urlencoded" },
    body: item.body,
    redirect: "follow",
    credentials: "same-origin",
  });
  checkClock(answer);
  return answer;
}

// Not this form's fault: the item stays and is tried again later.
function tryLater(status) {
  return status >= 500 || [401, 403, 408, 429].includes(status);
}

// What the server refused is not sent again, but never thrown away unseen: it is shown with what was
// typed, each time the page opens, for a week.
function showRefused(kept) {
  for (const item of kept.filter((other) => other.refused)) {
    const typed = [...new URLSearchParams(item.body)].filter(([name]) => !["id", "csrf", "form"].includes(name));
    say("refused", "", typed.map(([, value]) => value).join(", "));
  }
}

// Kept items are sent in the order they were typed.
export async function sendKept() {
  if (sending) return;
  sending = true;
  try {
    writeKept(readKept().filter((item) => !item.refused || Date.now() - item.refused < WEEK_MILLIS));
    for (const item of readKept().filter((other) => !other.refused)) {
      const answer = await post(item);
      if (tryLater(answer.status)) break;
      const rest = readKept().filter((other) => other.id !== item.id);
      writeKept(answer.ok ? rest : [...rest, { ...item, refused: Date.now() }]);
      if (answer.ok) say("sent");
    }
  } catch {
    // still no signal; they stay kept
  } finally {
    sending = false;
  }
  showRefused(readKept());
}

export function takeOver(form) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const fields = new FormData(form);
    if (!fields.get("at_local")) fields.set("at", new Date().toISOString().replace(/\.\d+Z$/, "Z"));
    const item = { id: fields.get("id"), action: form.getAttribute("action"), body: new URLSearchParams(fields).toString() };
    let answer;
    try {
      answer = await post(item);
    } catch {
      answer = null;
    }
    if (answer === null || tryLater(answer.status)) {
      try {
        writeKept([...readKept(), item]);
      } catch {
        form.submit(); // nothing can be kept here: let the browser say so, what was typed stays
        return;
      }
      say("kept");
    } else if (answer.ok) {
      location.reload();
      return;
    } else {
      form.submit(); // the server's own page shows what is wrong and keeps what was typed
      return;
    }
    form.elements.namedItem("id").value = newId();
  });
}
