// Keeps the check page on the phone, so that it opens without a network. The page changes only with its version.
const VERSION = "{{version}}";
const FILES = ["./", "page.js", "seal.js", "words.js", "page.css", "zxing_reader.js", "zxing_reader.wasm"];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(VERSION).then((cache) => cache.addAll(FILES)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  const old = (name) => name.startsWith("check-") && name !== VERSION;
  event.waitUntil(caches.keys().then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name)))).then(() => self.clients.claim()));
});
self.addEventListener("fetch", (event) => {
  const { pathname } = new URL(event.request.url);
  const mine = FILES.some((name) => pathname === new URL(name, self.registration.scope).pathname);
  if (!mine || event.request.method !== "GET") return;
  event.respondWith(caches.open(VERSION).then((cache) => cache.match(event.request, { ignoreSearch: true })).then((kept) => kept ?? fetch(event.request)));
});
