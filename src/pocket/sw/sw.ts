// Keeps the page on the phone after one visit. It keeps files of the page only: never an answer of the server, never the
// token. What the runner records lives in the page's own database.
export {};
declare const self: ServiceWorkerGlobalScope;

// Both are filled in by the build (vite.config.pocket.ts).
const FILES = JSON.parse("__FILES__") as readonly string[];
const CACHE = "spondee-pocket-__BUILD__";
const PAGE = "/run/";

self.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(CACHE);
      // Past the browser's own cache: a build is kept whole or not at all.
      await cache.addAll(FILES.map((file) => new Request(file, { cache: "reload" })));
      await self.skipWaiting();
    })(),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      const names = await caches.keys();
      const old = names.filter((name) => name.startsWith("spondee-pocket-") && name !== CACHE);
      // The build before this one stays: a page that is open, in the middle of a run, may still ask for a piece of it.
      await Promise.all(old.slice(0, -1).map((name) => caches.delete(name)));
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin || !address.pathname.startsWith(PAGE)) return;
  const key = request.mode === "navigate" ? PAGE : address.pathname;
  event.respondWith(keptElseFresh(key, request));
});

/** Kept first: the page opens at once and does not wait for a network that may be bad. A new build replaces it whole. */
async function keptElseFresh(key: string, request: Request): Promise<Response> {
  const kept = await caches.match(key, { cacheName: CACHE });
  if (kept !== undefined) return kept;
  return (await caches.match(key)) ?? fetch(request);
}
