// The app's own outbox in a page of the app: events as its forms write them, then the word to its other pages.
import { write } from "../../src/planish/doors/floor/src/hall/outbox/outbox";

Object.assign(globalThis, {
  outbox: async (drafts: Parameters<typeof write>[0]) => {
    for (const one of drafts) await write([one]);
    new BroadcastChannel("planish-floor").postMessage("wrote");
  },
});
