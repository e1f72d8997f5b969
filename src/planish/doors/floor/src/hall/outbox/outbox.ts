// The queue of own work: number, chain and event are given in one strict transaction; nothing leaves before it is stored.
import { compose } from "./compose";
import { type Draft, type Kept, type Own, type Pending, type Picture, STORED } from "./shapes";
import { got, keep, kept, type Stores, within } from "./store";

export const UNDO_MS = 10_000;

/** Write events now. They are "on this tablet" when this returns. */
export const write = (drafts: Draft[], t = Date.now()): Promise<Own[]> => within("readwrite", (stores) => put(stores, drafts, t));

async function put(stores: Stores, drafts: Draft[], t: number): Promise<Own[]> {
  let now = await kept(stores);
  if (!now.fair || !now.dev || now.state === "wiped") throw new Error("This tablet is not paired.");
  const made: Own[] = [];
  for (const draft of drafts) {
    const { raw, id, open, next } = compose(draft, now, t);
    const { kind, sub, who } = draft;
    const own: Own = { seq: next.seq, id, raw, open, sig: "", kind, sub, who, t, status: "waiting", n: 0, why: "" };
    stores.events.add(own);
    made.push(own);
    now = next;
  }
  keep(stores, now);
  return made;
}

/** Store passes that may be taken back for ten seconds. They are on the tablet at once, and events after that. */
export async function hold(drafts: Draft[], words: string, stand: string): Promise<Pending> {
  const made = Date.now();
  const pending: Pending = { due: made + UNDO_MS, made, words, stand, drafts };
  const key = await within("readwrite", (stores) => got(stores.pending.add(pending)));
  return { ...pending, key: Number(key) };
}

/** Take back. False when it was too late. */
export const takeBack = (key: number): Promise<boolean> =>
  within("readwrite", async (stores) => {
    const found = await got(stores.pending.get(key));
    if (found) stores.pending.delete(key);
    return Boolean(found);
  });

/** What is due becomes events; `all` when the page closes or the person locks. Two pages may call this: one finds it. */
export const release = (all = false): Promise<number> =>
  within("readwrite", async (stores) => {
    const waiting = (await got(stores.pending.getAll())) as Pending[];
    let count = 0;
    for (const one of waiting) {
      const clockWentBack = one.made > Date.now() + 1000;
      if (!all && !clockWentBack && one.due > Date.now()) continue;
      await put(stores, one.drafts, one.made);
      stores.pending.delete(one.key as number);
      count += 1;
    }
    return count;
  });

export const pendings = (): Promise<Pending[]> => within("readonly", (stores) => got(stores.pending.getAll() as IDBRequest<Pending[]>));

export const owns = (): Promise<Own[]> => within("readonly", (stores) => got(stores.events.getAll() as IDBRequest<Own[]>));

export const isStored = (one: Own): boolean => one.status !== "waiting" && STORED.includes(one.status);

/** What the desk has not answered for, in the order of its numbers. */
export const waitingOf = (all: Own[]): Own[] => all.filter((one) => !isStored(one));

/** Own events and pictures that are in a verified backup may go; cards that wait for a decision stay. */
export const tidy = (): Promise<void> =>
  within("readwrite", async (stores) => {
    const now = await kept(stores);
    const all = (await got(stores.events.getAll())) as Own[];
    for (const one of (await got(stores.pictures.getAll())) as Picture[]) {
      const by = all.filter((event) => event.raw.includes(one.sha));
      if (one.whole && by.every((event) => event.n && event.n <= now.safe_n && isOld(event))) stores.pictures.delete(one.sha);
    }
    for (const one of all) {
      const quiet = one.status === "ok" || one.status === "have" || one.settled;
      if (one.n && one.n <= now.safe_n && quiet && isOld(one)) stores.events.delete(one.seq);
    }
  });

/** A day after it was written the tick has been seen; until then the list of own work shows it. */
const isOld = (one: Own) => Date.now() - one.t > 24 * 3600 * 1000;

export const settle = (seq: number): Promise<void> =>
  within("readwrite", async (stores) => {
    const one = (await got(stores.events.get(seq))) as Own | undefined;
    if (one) stores.events.put({ ...one, settled: true });
  });

/** Everything the tablet made, as one file: events are self-contained, and taking them in twice changes nothing. */
export async function exported(): Promise<{ tablet: Kept; events: Own[] }> {
  return within("readonly", async (stores) => ({ tablet: await kept(stores), events: (await got(stores.events.getAll())) as Own[] }));
}
