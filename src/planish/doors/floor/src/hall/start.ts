// Start: the store, what was due, the worker, the sender. Nothing here waits for the network.
import { watchWorker } from "./parts/update";
import { askStorage, watchBattery } from "./parts/warnings";
import { release } from "./outbox/outbox";
import { begin } from "./outbox/sender";
import { onStoreTrouble, readKept } from "./outbox/store";
import { held, load, storeTrouble, waitingCount, who, wrote } from "./state";

const IDLE_MS = 5 * 60_000;
export const MARK = "planish.floor.dev";

export async function start(): Promise<void> {
  onStoreTrouble((words) => {
    storeTrouble.value = words;
  });
  try {
    await release(true).catch(() => 0);
    await load();
    const now = await readKept();
    if (now.dev) localStorage.setItem(MARK, now.dev);
    storeTrouble.value = "";
  } catch (failure) {
    storeTrouble.value = String(failure);
  }
  watchWorker();
  watchIdle();
  watchDue();
  void watchBattery();
  void askStorage();
  setInterval(() => void askStorage(), 60_000);
  addEventListener("beforeunload", (event) => {
    if (waitingCount.value) event.preventDefault();
  });
  begin();
}

/** A pass becomes an event when its ten seconds are over, whatever the line does. */
function watchDue(): void {
  setInterval(() => {
    if (held.value.some((one) => one.due <= Date.now())) void release().then((count) => (count ? wrote() : undefined));
  }, 250);
}

/** Five minutes without a touch: the PIN is asked again. What was being typed stays. */
function watchIdle(): void {
  let last = Date.now();
  for (const what of ["pointerdown", "keydown", "scroll"]) addEventListener(what, () => (last = Date.now()), { passive: true, capture: true });
  setInterval(() => {
    if (who.value && Date.now() - last > IDLE_MS) void release(true).then(() => (who.value = null));
  }, 5000);
}
