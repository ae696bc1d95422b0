// Keeps one whole build of the app, and answers from it without a network.
// The two marked values are written when the site is built.
"use strict";
const BUILD = "@BUILD@";
// Each file's address and the SHA-256 of its bytes in base 64.
const FILES = [/*@FILES@*/];

const PREFIX = "evenfeed-";
const CACHE = PREFIX + BUILD;
const PAGE = "index.html";

const address = (url) => new URL(url, self.registration.scope).href;

// Some hosts redirect the page to a tidier address; a browser refuses a
// redirected answer to a navigation, so a plain copy is kept.
const plain = async (answer) =>
  answer.redirected
    ? new Response(await answer.blob(), { status: answer.status, headers: answer.headers })
    : answer;

// All files or none: one that is missing or has other bytes than this build's
// fails the installation, and the version before stays.
const install = async () => {
  const cache = await caches.open(CACHE);
  const fetchOne = async ([url, hash]) => {
    const answer = await fetch(new Request(address(url), { cache: "reload", integrity: "sha256-" + hash }));
    if (!answer.ok) throw new Error(url + ": " + answer.status);
    await cache.put(address(url), await plain(answer));
  };
  await Promise.all(FILES.map(fetchOne));
};

const activate = async () => {
  const old = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  // The page of the first visit too: else the next build would not wait for it.
  await self.clients.claim();
};

// Files by their address, the page for the folder, and the folder for a page
// that is not there: the page's own links are relative to the folder.
const answer = async (request) => {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(request, { ignoreSearch: true });
  if (kept || request.mode !== "navigate") return kept || fetch(request);
  const { pathname } = new URL(request.url);
  if (pathname !== new URL(self.registration.scope).pathname) {
    return Response.redirect(self.registration.scope);
  }
  return (await cache.match(address(PAGE))) || fetch(request);
};

// Whether every file of this build is kept: asked for, not remembered, because
// a browser may clear a cache at any time.
const state = async () => {
  const cache = await caches.open(CACHE);
  const kept = await Promise.all(FILES.map(([url]) => cache.match(address(url))));
  return { ready: kept.every(Boolean), build: BUILD };
};

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const own = request.url.startsWith(self.registration.scope);
  if (request.method === "GET" && own) event.respondWith(answer(request));
});
// What a page may ask, now and in every later version: an old page must be
// able to talk to a new worker.
self.addEventListener("message", (event) => {
  const to = event.ports[0] || event.source;
  if (event.data === "SKIP") event.waitUntil(self.skipWaiting());
  if (event.data === "STATE?" && to) event.waitUntil(state().then((found) => to.postMessage(found)));
});
