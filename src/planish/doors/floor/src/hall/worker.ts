// The floor's worker: one build, whole, from its own cache. It never touches the API and never takes over an open page by itself.
interface Lasting extends Event {
  waitUntil: (until: Promise<unknown>) => void;
}
interface Fetching extends Event {
  request: Request;
  respondWith: (answer: Promise<Response>) => void;
}
interface WorkerScope {
  location: Location;
  clients: { claim: () => Promise<void> };
  skipWaiting: () => Promise<void>;
  addEventListener: ((on: "install" | "activate", then: (event: Lasting) => void) => void) &
    ((on: "fetch", then: (event: Fetching) => void) => void) &
    ((on: "message", then: (event: MessageEvent) => void) => void);
}
declare const self: WorkerScope;
declare const __BUILD__: string;
declare const __FILES__: string[];

const CACHE = `planish-floor-${__BUILD__}`;
const PAGE = "/floor/";

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(CACHE).then((cache) => cache.addAll([PAGE, ...__FILES__].map((one) => new Request(one, { cache: "reload" })))),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((one) => one.startsWith("planish-floor-") && one !== CACHE).map((one) => caches.delete(one))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "change over") void self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const at = new URL(event.request.url);
  if (event.request.method !== "GET" || at.origin !== self.location.origin || at.pathname.startsWith("/api/")) return;
  if (event.request.mode === "navigate") {
    event.respondWith(from(PAGE).then((found) => found ?? fetch(event.request)));
    return;
  }
  if (__FILES__.includes(at.pathname)) event.respondWith(from(at.pathname).then((found) => found ?? fetch(event.request)));
});

const from = (path: string): Promise<Response | undefined> => caches.match(path, { cacheName: CACHE });

export {};
