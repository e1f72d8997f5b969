// The kill switch: put in the place of floor-worker.js, it takes the worker and its copies away. What waits in the store stays.
self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => {
  const names = caches.keys().then((all) => all.filter((one) => one.startsWith("planish-floor-")));
  const gone = names.then((all) => Promise.all(all.map((one) => caches.delete(one))));
  event.waitUntil(gone.then(() => self.registration.unregister()));
});
