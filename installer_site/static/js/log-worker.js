// Lets the pages of a day open without signal. Only our own static files and day pages are kept,
// and only for reading: what is sent goes to the server or waits in the page's own store.
"use strict";

const KEPT = "rowbook-log";
const PAGES = /^\/days(\/today|\/\d+(\/log)?)?$/;

function isOurs(request) {
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return false;
  if (url.pathname.startsWith("/static/")) return true;
  return request.mode === "navigate" && PAGES.test(url.pathname) && !url.search;
}

async function freshOrKept(request) {
  const kept = await caches.open(KEPT);
  try {
    const fresh = await fetch(request);
    if (fresh.ok && !fresh.redirected) await kept.put(request.url, fresh.clone());
    return fresh;
  } catch (noSignal) {
    const page = await kept.match(request.url);
    if (page) return page;
    throw noSignal;
  }
}

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  if (isOurs(event.request)) event.respondWith(freshOrKept(event.request));
});
