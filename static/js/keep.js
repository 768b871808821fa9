// Keeps the crew's page and its parts, so that it opens in a basement: from the network when there is
// one, else what was kept. It never answers a form.
const SHELF = "emberwait-crew-1";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  event.respondWith(
    (async () => {
      const shelf = await caches.open(SHELF);
      try {
        const answer = await fetch(event.request);
        if (answer.ok) await shelf.put(event.request, answer.clone());
        return answer;
      } catch (fault) {
        const kept = await shelf.match(event.request, { ignoreSearch: true });
        if (kept) return kept;
        throw fault;
      }
    })(),
  );
});
