// A phone page's worker: starts the page where there is no signal. It keeps pages and files, never reports or answers.
"use strict";
const WAIT = 4000;
const FILES = `${UNDER}-/`;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(STORE).then((store) => store.addAll(KEPT)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== location.origin || !url.pathname.startsWith(UNDER)) return;
  const name = url.pathname.slice(UNDER.length);
  if (url.pathname.startsWith(FILES) && url.pathname !== `${FILES}worker.js`) event.respondWith(file(event.request));
  else if (event.request.mode === "navigate" && name && !name.includes("/") && !url.searchParams.has("k"))
    event.respondWith(page(event, `${url.origin}${url.pathname}`));
});

// a file's name changes with its content, so a kept one is always right; those of older pages stay for those pages
async function file(request) {
  const store = await caches.open(STORE);
  const held = await store.match(request.url);
  if (held) return held;
  const answer = await fetch(request);
  if (answer.ok) await store.put(request.url, answer.clone());
  return answer;
}

async function page(event, address) {
  const store = await caches.open(STORE);
  const asked = fetch(event.request).then(async (answer) => {
    if (answer.ok && !answer.redirected) await store.put(address, answer.clone());
    // a key that was ended opens nothing any more, with or without signal
    else if (answer.status === 401 || answer.status === 403) await store.delete(address);
    return answer;
  });
  event.waitUntil(asked.catch(() => undefined));
  const held = await store.match(address);
  if (!held) return asked;
  const late = new Promise((done) => setTimeout(() => done(held), WAIT));
  return Promise.race([asked.catch(() => held), late]);
}
