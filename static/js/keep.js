// Keeps the crew's page in both languages and its parts, so that it opens in a basement: from the
// network when there is one that answers soon, else what was kept. It never answers a form.
const SHELF = "emberwait-crew-2";
const SOON_MILLIS = 4000;
const LANGUAGES = ["en", "es"];
const PARTS = [
  "/static/css/page-crew.css", "/static/icon.svg", "/static/js/age.js", "/static/js/crew.js", "/static/js/crew-form.js",
  "/static/js/crew-list.js", "/static/js/crew-photo.js", "/static/js/crew-says.js", "/static/js/crew-send.js", "/static/js/crew-store.js",
];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(SHELF).then((shelf) => shelf.addAll(PARTS.map((path) => new Request(path, { cache: "force-cache" })))).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== SHELF) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

function kept(path, lang) {
  return `${path}?lang=${lang}`;
}

// The language this phone was set to by a tap; null: never.
async function chosen(shelf) {
  const answer = await shelf.match("/c/?language");
  return answer ? answer.text() : null;
}

// A page as the office gives it, kept under its language. Without the cookie it would answer in the
// language asked for and leave this phone's choice alone.
async function keepPage(shelf, path, lang) {
  const answer = await fetch(path, { credentials: "omit", cache: "no-store", headers: { "Accept-Language": lang } });
  if (answer.ok) await shelf.put(kept(path, lang), answer);
}

// The page that is on the screen now, so that it need not cross a slow line twice.
function keepShown(shelf, path, lang, html, told) {
  const headers = {};
  for (const name of ["content-type", "content-security-policy", "referrer-policy", "x-content-type-options", "x-robots-tag"])
    if (told[name]) headers[name] = told[name];
  return shelf.put(kept(path, lang), new Response(html, { headers }));
}

async function other(shelf, path, lang) {
  for (const one of LANGUAGES) if (one !== lang) await keepPage(shelf, path, one).catch(() => {});
}

async function fromNetwork(event, shelf, path, lang) {
  const address = new URL(event.request.url);
  if (lang) address.searchParams.set("lang", lang);
  const answer = await fetch(address, { credentials: "same-origin", cache: "no-store", redirect: "follow" });
  const language = answer.ok ? /<html lang="(\w+)"/.exec(await answer.clone().text())?.[1] : null;
  if (language) {
    await shelf.put(kept(path, language), answer.clone());
    event.waitUntil(other(shelf, path, language));
  }
  return answer;
}

async function fromShelf(shelf, path, lang) {
  for (const one of lang ? [lang, ...LANGUAGES] : LANGUAGES) {
    const answer = await shelf.match(kept(path, one));
    if (answer) return answer;
  }
  return null;
}

function after(millis) {
  return new Promise((resolve) => setTimeout(resolve, millis, null));
}

async function page(event, path, asked) {
  const shelf = await caches.open(SHELF);
  if (asked) await shelf.put("/c/?language", new Response(asked));
  const lang = asked ?? (await chosen(shelf));
  const network = fromNetwork(event, shelf, path, lang);
  const late = await fromShelf(shelf, path, lang);
  if (!late) return network;
  event.waitUntil(network.catch(() => {}));
  try {
    const answer = await Promise.race([network, after(SOON_MILLIS)]);
    return answer && answer.status < 500 ? answer : late;
  } catch {
    return late;
  }
}

// A part of the page: what was kept at once, and a newer one for the next time.
async function part(event) {
  const shelf = await caches.open(SHELF);
  const have = await shelf.match(event.request, { ignoreSearch: true, ignoreVary: true });
  const network = fetch(event.request, { cache: "no-cache" }).then(async (answer) => {
    if (answer.ok) await shelf.put(event.request, answer.clone());
    return answer;
  });
  if (!have) return network;
  event.waitUntil(network.catch(() => {}));
  return have;
}

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  const address = new URL(event.request.url);
  if (address.origin !== location.origin) return;
  const day = /^\/c\/[^/]+(?:\/sheet)?$/.exec(address.pathname);
  if (day) event.respondWith(page(event, address.pathname, address.searchParams.get("lang")));
  else if (PARTS.includes(address.pathname)) event.respondWith(part(event));
});

// The first visit came before this worker: keep what it showed, and the other language.
self.addEventListener("message", (event) => {
  const path = event.data?.keep;
  if (typeof path !== "string" || !path.startsWith("/c/")) return;
  event.waitUntil(
    (async () => {
      const shelf = await caches.open(SHELF);
      const { lang, html, headers } = event.data;
      if (html && headers && !(await shelf.match(kept(path, lang)))) await keepShown(shelf, path, lang, html, headers);
      for (const one of LANGUAGES) {
        if (!(await shelf.match(kept(path, one)))) await keepPage(shelf, path, one).catch(() => {});
      }
    })(),
  );
});
