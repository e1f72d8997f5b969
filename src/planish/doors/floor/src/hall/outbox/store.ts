// The tablet's store. Every write is strict: "complete" means flushed. A handle that the browser dropped is opened anew.
import { NOTHING, type Kept } from "./shapes";

const NAME = "planish-floor";
const VERSION = 1;
export const STORES = ["kept", "events", "pending", "objects", "typed", "pictures", "ribbons"] as const;
export type StoreName = (typeof STORES)[number];

let handle: Promise<IDBDatabase> | null = null;
let alarm: (words: string) => void = () => {};
/** Told when the store cannot be opened or written even after trying again. */
export const onStoreTrouble = (tell: (words: string) => void) => {
  alarm = tell;
};

function open(): Promise<IDBDatabase> {
  handle ??= new Promise<IDBDatabase>((done, fail) => {
    const asked = indexedDB.open(NAME, VERSION);
    asked.onupgradeneeded = () => upgrade(asked.result);
    asked.onerror = () => fail(asked.error ?? new Error("the store does not open"));
    asked.onblocked = () => fail(new Error("another page holds the store"));
    asked.onsuccess = () => {
      const db = asked.result;
      db.onclose = () => drop();
      db.onversionchange = () => {
        db.close();
        drop();
      };
      done(db);
    };
  });
  handle.catch(() => drop());
  return handle;
}

/** Stores are added, never dropped: an older build may have left unsent work in them. */
function upgrade(db: IDBDatabase): void {
  const keys: Record<StoreName, IDBObjectStoreParameters> = {
    kept: {},
    events: { keyPath: "seq" },
    pending: { keyPath: "key", autoIncrement: true },
    objects: { keyPath: "id" },
    typed: { keyPath: "key" },
    pictures: { keyPath: "sha" },
    ribbons: { keyPath: "id" },
  };
  for (const name of STORES) if (!db.objectStoreNames.contains(name)) db.createObjectStore(name, keys[name]);
}

export function drop(): void {
  handle = null;
}

export type Stores = Record<StoreName, IDBObjectStore>;
export type Work<T> = (stores: Stores) => Promise<T> | T;

/** One transaction, all or nothing. `work` may wait only for requests of this transaction (`got`). */
export async function within<T>(mode: IDBTransactionMode, work: Work<T>): Promise<T> {
  for (let turn = 0; ; turn += 1) {
    try {
      return await once(await open(), mode, work);
    } catch (failure) {
      if (!dead(failure) || turn === 3) {
        if (mode === "readwrite" || dead(failure)) alarm(String(failure));
        throw failure;
      }
      drop();
      await new Promise((wake) => setTimeout(wake, 50 * 4 ** turn));
    }
  }
}

/** The faults of a handle whose database went away beneath it; the cure is to open it anew. */
function dead(failure: unknown): boolean {
  const name = failure instanceof DOMException ? failure.name : "";
  return ["InvalidStateError", "UnknownError", "AbortError", "TransactionInactiveError"].includes(name);
}

function once<T>(db: IDBDatabase, mode: IDBTransactionMode, work: Work<T>): Promise<T> {
  return new Promise<T>((done, fail) => {
    const going = db.transaction(STORES, mode, { durability: "strict" });
    const stores = Object.fromEntries(STORES.map((name) => [name, going.objectStore(name)])) as Record<StoreName, IDBObjectStore>;
    let answer: T;
    let wrong: unknown;
    going.oncomplete = () => done(answer);
    going.onabort = () => fail(wrong ?? going.error ?? new DOMException("the store gave up", "AbortError"));
    Promise.resolve()
      .then(() => work(stores))
      .then((found) => {
        answer = found;
      })
      .catch((failure: unknown) => {
        wrong = failure;
        try {
          going.abort();
        } catch {
          fail(failure);
        }
      });
  });
}

/** The answer of one request. */
export function got<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((done, fail) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });
}

export async function kept(stores: Record<StoreName, IDBObjectStore>): Promise<Kept> {
  return { ...NOTHING, ...((await got(stores.kept.get("tablet"))) as Partial<Kept> | undefined) };
}

export function keep(stores: Record<StoreName, IDBObjectStore>, now: Kept): void {
  stores.kept.put(now, "tablet");
}

export const readKept = (): Promise<Kept> => within("readonly", kept);

export const changeKept = (change: (now: Kept) => Kept): Promise<Kept> =>
  within("readwrite", async (stores) => {
    const next = change(await kept(stores));
    keep(stores, next);
    return next;
  });

export const remember = (name: string, value: unknown): Promise<void> =>
  within("readwrite", (stores) => {
    stores.kept.put(value, name);
  });

export const recall = <T>(name: string): Promise<T | undefined> =>
  within("readonly", (stores) => got(stores.kept.get(name) as IDBRequest<T | undefined>));

/** Everything of this fair goes from the tablet. `why` is all that stays. */
export const wipe = (left: Kept): Promise<void> =>
  within("readwrite", (stores) => {
    for (const name of STORES) stores[name].clear();
    keep(stores, left);
  });
