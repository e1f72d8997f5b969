// The worker of this app. A new build waits until the person presses "update", and the queue was handed in first.
import { signal } from "@preact/signals";
import { release } from "../outbox/outbox";
import { wake } from "../outbox/sender";
import { load, waitingCount } from "../state";

export const newer = signal<ServiceWorker | null>(null);
export const offlineReady = signal(false);

export function watchWorker(): void {
  if (!("serviceWorker" in navigator)) return;
  void navigator.serviceWorker.register("/floor-worker.js", { scope: "/floor/", updateViaCache: "none" }).then(watch, () => {});
  void navigator.serviceWorker.getRegistration("/floor/").then((found) => (offlineReady.value = Boolean(found?.active)));
  navigator.serviceWorker.addEventListener("controllerchange", changeOver);
}

function watch(found: ServiceWorkerRegistration): void {
  const look = () => {
    offlineReady.value = Boolean(found.active);
    newer.value = found.waiting && navigator.serviceWorker.controller ? found.waiting : null;
  };
  look();
  found.addEventListener("updatefound", () => {
    found.installing?.addEventListener("statechange", look);
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void found.update().catch(() => {});
  });
  setInterval(() => void found.update().catch(() => {}), 10 * 60_000);
}

let pressed = false;
let reloading = false;
/** The new build is in charge: open it. Told twice, by the page and by the worker, for a busy tablet may drop one; done once. */
function changeOver(): void {
  if (!pressed || reloading) return;
  reloading = true;
  location.reload();
}

/** So long the queue may take; what is not through by then waits for the new build (house default). */
const FLUSH_MS = 15_000;

/** Hand in what waits, then change over. While the desk is away what waits stays in the store, which the new build reads. */
export async function update(): Promise<void> {
  await release(true);
  await load(false);
  wake();
  const until = Date.now() + FLUSH_MS;
  while (waitingCount.value && Date.now() < until) await new Promise((done) => setTimeout(done, 100));
  pressed = true;
  const next = newer.value;
  next?.addEventListener("statechange", () => {
    if (next.state === "activated") changeOver();
  });
  next?.postMessage("change over");
}
