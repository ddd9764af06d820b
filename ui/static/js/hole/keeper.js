// Keeps the page of the open hole for when there is no network. What is asked is fetched
// where that works within a few seconds, and else taken from what was kept; packs and logs
// lie in the page's own storage.
const kept = "hole-3", patience = 4000; // milliseconds
const shell = [
  ...["page", "hole", "print"].map((name) => `/static/css/${name}.css`),
  "/static/js/page.js", "/static/js/lib/outbox.js", "/static/js/lib/whole-choice.js",
  ...["page", "parts", "draw", "store", "record", "answer", "ground"].map((name) => `/static/js/hole/${name}.js`),
  "/static/icon.svg", "/hole",
];

// The page is one, whatever site and language it was opened for.
const nameOf = (request) => (new URL(request.url).pathname === "/hole" ? "/hole" : request.url);

addEventListener("install", (event) => event.waitUntil(caches.open(kept).then((cache) => cache.addAll(shell)).then(() => skipWaiting())));
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

// What an answer varies by is for the network; without one any is better than none.
const found = (request) => caches.match(nameOf(request), { ignoreVary: true });

async function fetched(request) {
  const response = await fetch(request);
  if (response.ok && !response.redirected) await (await caches.open(kept)).put(nameOf(request), response.clone());
  return response;
}

async function later(request) {
  await new Promise((resolve) => setTimeout(resolve, patience));
  return (await found(request)) ?? new Promise(() => {}); // nothing kept: wait on
}

addEventListener("fetch", (event) => {
  const { request } = event, path = new URL(request.url).pathname;
  if (request.method !== "GET" || !(path === "/hole" || path.startsWith("/static/"))) return;
  const network = fetched(request).catch(async () => (await found(request)) ?? Response.error());
  event.respondWith(Promise.race([network, later(request)]));
});
