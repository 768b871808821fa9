// What the phone keeps: the records in the order they were written, and the photos that go with them.
// A record stays after it was sent, so that it can be taken back; a photo goes once it has arrived.
const DAYS_KEPT = 3;
let opening = null;
export let keeps = true; // false: this browser keeps nothing, and the page says so

function open() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open("emberwait-crew", 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("records", { keyPath: "seq", autoIncrement: true });
      request.result.createObjectStore("photos");
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
  });
  return opening;
}

// One transaction over both stores; resolves when it is on disk, not when it was asked for.
async function within(mode, work) {
  const store = await open();
  return new Promise((resolve, reject) => {
    const all = store.transaction(["records", "photos"], mode, { durability: "strict" });
    const answer = work(all.objectStore("records"), all.objectStore("photos"));
    all.oncomplete = () => resolve(answer?.result);
    all.onabort = all.onerror = () => reject(all.error);
  });
}

// Records and their photo are kept together or not at all.
export function keep(items, photo) {
  return within("readwrite", (records, photos) => {
    if (photo) photos.put(photo.blob, photo.id);
    for (const item of items) records.add(item);
  });
}

export function change(item) {
  return within("readwrite", (records) => records.put(item));
}

export function all() {
  return within("readonly", (records) => records.getAll());
}

export function photoOf(id) {
  return within("readonly", (_, photos) => photos.get(id));
}

export function dropPhoto(id) {
  return within("readwrite", (_, photos) => photos.delete(id));
}

// What was sent days ago needs no undo; what was not sent is never dropped.
export async function tidy() {
  const old = Date.now() - DAYS_KEPT * 24 * 3600 * 1000;
  const gone = (await all()).filter((item) => item.state !== "waits" && item.state !== "refused" && Date.parse(item.record.at) < old);
  return within("readwrite", (records) => {
    for (const item of gone) records.delete(item.seq);
  });
}

export async function ready() {
  try {
    await open();
    await navigator.storage?.persist?.();
  } catch {
    keeps = false;
  }
  return keeps;
}
