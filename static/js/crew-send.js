// Sends what the phone keeps, oldest first, photo before record. Each record carries the id it was
// given when it was written, so one that was sent twice is stored once. What the office refuses is
// marked with why and stays; what the network or a broken server swallows is tried again.
import { all, change, dropPhoto, photoOf } from "./crew-store.js";

const SLOW_MILLIS = 30000;
let skewMinutes = Number(localStorage.getItem("emberwait.skew") ?? 0);

export function clockOff() {
  return skewMinutes;
}

// How far this phone's clock is from the office's, whole minutes, by the Date every answer carries.
function checkClock(answer) {
  const date = Date.parse(answer.headers.get("date") ?? "");
  if (Number.isNaN(date)) return;
  skewMinutes = Math.round((Date.now() - date) / 60000);
  localStorage.setItem("emberwait.skew", String(skewMinutes));
}

// What the clock says before anything is sent, and the headers of the page; null without signal.
export async function askHead(base) {
  try {
    const answer = await fetch(base, { method: "HEAD", cache: "no-store" });
    checkClock(answer);
    return answer.ok ? Object.fromEntries(answer.headers) : null;
  } catch {
    return null;
  }
}

async function ask(address, method, type, body) {
  const answer = await fetch(address, {
    method,
    body,
    headers: { "Content-Type": type },
    cache: "no-store",
    credentials: "same-origin",
    signal: AbortSignal.timeout?.(SLOW_MILLIS),
  });
  checkClock(answer);
  return answer;
}

const LATER = "later"; // not this record's fault: it waits, and so do those behind it
const LINK = "link"; // the link was switched off

function refusal(status, photo) {
  if (status >= 200 && status < 300) return null;
  if (status === 404) return LINK;
  if (status === 507) return "room";
  if (status >= 500 || [401, 408, 421, 425, 429].includes(status)) return LATER;
  if (photo) return "photo";
  if (status === 403) return "job";
  return status === 409 ? "clash" : "field";
}

// Which field the office could not read, from a problem document (RFC 9457).
async function faultOf(answer) {
  try {
    const path = (await answer.json()).faults?.[0]?.path ?? "";
    return path.split(".").pop().replace(/\[\d+\]$/, "");
  } catch {
    return "";
  }
}

async function sendPhoto(item, base) {
  const blob = await photoOf(item.photo);
  if (!blob) return null;
  const answer = await ask(`${base}/photos/${item.photo}?job=${encodeURIComponent(item.job)}`, "PUT", "image/jpeg", blob);
  return refusal(answer.status, true);
}

async function sendOne(item, base) {
  if (item.photo && !item.photoSent) {
    const wrong = await sendPhoto(item, base);
    if (wrong) return wrong;
    item.photoSent = true;
    await change(item);
  }
  const answer = await ask(`${base}/records?job=${encodeURIComponent(item.job)}`, "POST", "application/json", JSON.stringify([item.record]));
  const wrong = refusal(answer.status, false);
  if (wrong === "field") item.field = await faultOf(answer);
  return wrong;
}

// The link it was written under, or, when that one was switched off, the one that is open now.
async function sendBy(item, base) {
  const wrong = await sendOne(item, item.base);
  if (wrong !== LINK || item.base === base) return wrong;
  item.base = base;
  return sendOne(item, base);
}

// A correction of what the office never took has nothing to correct.
function isIdle(item, items) {
  const of = item.record.kind === "corrected" && items.find((other) => other.record.id === item.record.corrects);
  return of && of.state === "refused" ? of : null;
}

async function sendAll(base) {
  const items = await all();
  let sent = 0;
  for (const item of items.filter((other) => other.state === "waits")) {
    const idle = isIdle(item, items);
    if (idle) {
      for (const one of [idle, item]) await change(Object.assign(one, { state: "dropped" }));
      continue;
    }
    const wrong = await sendBy(item, base);
    if (wrong === LATER || wrong === LINK) return { sent, stopped: wrong };
    item.state = wrong ? "refused" : "sent";
    item.why = wrong;
    await change(item);
    if (!wrong && item.photo) await dropPhoto(item.photo);
    sent += wrong ? 0 : 1;
  }
  return { sent, stopped: null };
}

// Two open pages must not send at once; where they can, it does no harm.
export async function send(base) {
  const run = async () => {
    try {
      return await sendAll(base);
    } catch {
      return { sent: 0, stopped: "signal" };
    }
  };
  return navigator.locks ? navigator.locks.request("emberwait-send", run) : run();
}
