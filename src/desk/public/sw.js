// Keeps the app's own files, and the last answers to a few questions of the evening, for when the network is gone.
// Answers always come from the server when it can be reached. Signing out empties what was kept of people.
const SHELL = "spondee-desk-shell-1";
const ANSWERS = "spondee-desk-answers-1";
const KEPT_ANSWERS = [/^\/api\/session$/, /^\/api\/groups$/, /^\/api\/groups\/[^/]+(\/(roster|settings|lanes|evenings\/[^/]+\/attendance))?$/];

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(SHELL)
      .then((cache) => cache.addAll(["/", "/theme.js", "/mark.svg"]))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(
          names.filter((name) => name.startsWith("spondee-desk-") && name !== SHELL && name !== ANSWERS).map((name) => caches.delete(name)),
        ),
      )
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("message", (event) => {
  const { keep } = event.data ?? {};
  if (!Array.isArray(keep)) return;
  const wanted = keep.map((one) => new URL(one)).filter((one) => one.origin === location.origin);
  event.waitUntil(
    Promise.allSettled(
      wanted.map(async (one) => {
        if (one.pathname.startsWith("/assets/")) return keptElseFresh(new Request(one));
        return isKeptAnswer(one) ? freshElseKept(new Request(one), ANSWERS) : undefined;
      }),
    ),
  );
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (address.origin !== location.origin) return;
  if (request.method === "DELETE" && /^\/api\/sessions?$/.test(address.pathname)) {
    event.waitUntil(caches.delete(ANSWERS));
    return;
  }
  if (request.method !== "GET") return;
  if (address.pathname.startsWith("/api/")) {
    if (isKeptAnswer(address)) event.respondWith(freshElseKept(request, ANSWERS));
    return;
  }
  // The runner's phone page has a keeper of its own.
  if (address.pathname === "/run" || address.pathname.startsWith("/run/")) return;
  if (request.mode === "navigate") {
    event.respondWith(freshElseKept(request, SHELL, "/"));
    return;
  }
  // Built files carry their content's hash in their name: a kept one is never out of date.
  if (address.pathname.startsWith("/assets/")) event.respondWith(keptElseFresh(request));
  else event.respondWith(freshElseKept(request, SHELL));
});

function isKeptAnswer(address) {
  return KEPT_ANSWERS.some((pattern) => pattern.test(address.pathname));
}

/** A network that is there but carries nothing must not hold up the evening longer than this. */
const PATIENCE_MS = 8000;

async function freshElseKept(request, name, as) {
  const cache = await caches.open(name);
  const kept = await cache.match(as ?? request);
  const fresh = fetch(request).then(async (answer) => {
    if (answer.ok) await cache.put(as ?? request, answer.clone());
    return answer;
  });
  if (!kept) return fresh;
  const patience = new Promise((resolve) => setTimeout(() => resolve(kept), PATIENCE_MS));
  return Promise.race([fresh.catch(() => kept), patience]);
}

async function keptElseFresh(request) {
  const cache = await caches.open(SHELL);
  const kept = await cache.match(request);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) await cache.put(request, answer.clone());
  return answer;
}
