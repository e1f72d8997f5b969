// What comes from the desk. The cursor moves in the same transaction as the data, and only along the chain of hashes.
import { hex, join, sha256, unhex } from "./bytes";
import type { Doc, Kept, Own, Picture } from "./shapes";
import { got, keep, kept, type Stores, within } from "./store";

export interface EntryIn {
  n: number;
  leaf: string;
  /** Only when this person may see the entry. */
  raw?: string;
}

export interface Pulled {
  epoch: string;
  entries: EntryIn[];
  objects: Doc[];
  gone: string[];
  cards: Card[];
  next: { after: number; hash: string; from?: string };
  more: boolean;
  head: { n: number; hash: string };
  safe_n: number;
  now_ms: number;
  again?: boolean;
  /** Own texts that were deleted at the desk: event id, and the field ("" for all). Not in the first protocol. */
  redacted?: { id: string; path: string }[];
}

export interface Card {
  id: string;
  n: number;
  status: string;
  kind: string;
  sub: string;
  who: string;
  dev: string;
  at: string;
  why: string;
  yours: Record<string, unknown>;
  stands: { id: string; kind: string; who?: string; fields: Record<string, unknown> } | null;
  closed: string;
}

/** hash_n = SHA-256(0x01 ‖ hash_{n-1} ‖ leaf_n), from `hash` along the entries. "" when a number is missing. */
export function follow(hash: string, after: number, entries: EntryIn[]): string {
  let now = hash;
  let n = after;
  for (const one of entries) {
    n += 1;
    if (one.n !== n) return "";
    now = hex(sha256(join(Uint8Array.of(1), unhex(now), unhex(one.leaf))));
  }
  return now;
}

/** Objects outside the round are kept only while the tablet holds few (house default). */
const MOST_OTHERS = 1500;
const MOST_HEADS = 200;

export interface Head {
  n: number;
  hash: string;
}

export const FORKED = "The desk's history does not follow from what this tablet saw before.";

/** Take one page in. False when the chain does not hold: nothing is applied then. */
export async function take(page: Pulled, asked: Kept, spent: number): Promise<boolean> {
  const starting = asked.n === 0 || asked.asked !== "";
  const along = starting || !page.entries.length ? page.next.hash : follow(asked.hash, asked.n, page.entries);
  if (along !== page.next.hash || (!starting && page.entries.length && page.entries.at(-1)?.n !== page.next.after)) return false;
  await within("readwrite", async (stores) => {
    const now = await kept(stores);
    if (now.n !== asked.n || now.hash !== asked.hash) return;
    for (const doc of page.objects) stores.objects.put(doc);
    for (const id of page.gone) stores.objects.delete(id);
    if (page.redacted?.length) await forget(stores, page.redacted);
    const before = starting ? [] : (((await got(stores.kept.get("cards"))) ?? []) as Card[]);
    stores.kept.put(cardsAfter(before, page), "cards");
    const { after, hash } = page.next;
    const heads = ((await got(stores.kept.get("heads"))) ?? []) as Head[];
    if (heads.at(-1)?.n !== after) stores.kept.put([...heads.slice(1 - MOST_HEADS), { n: after, hash }], "heads");
    const enough = !page.objects.some((one) => one.mine) && (await got(stores.objects.count())) > MOST_OTHERS;
    const rest = enough ? "" : (page.next.from ?? "");
    keep(stores, { ...now, ...told(page, spent), n: after, hash, epoch: page.epoch, asked: rest });
  });
  return true;
}

/** What was deleted at the desk is deleted here: the readable side of own events, and pictures that only they name. */
async function forget(stores: Stores, redacted: { id: string; path: string }[]): Promise<void> {
  const all = (await got(stores.events.getAll())) as Own[];
  const whole = new Set<string>();
  for (const { id, path } of redacted) {
    const one = all.find((own) => own.id === id);
    if (!one) continue;
    one.open = path ? one.open.filter((text) => text.path !== path) : [];
    if (!path) whole.add(id);
    stores.events.put(one);
  }
  for (const { sha } of (await got(stores.pictures.getAll())) as Picture[]) {
    const by = all.filter((own) => own.raw.includes(sha));
    if (by.length && by.every((own) => whole.has(own.id))) stores.pictures.delete(sha);
  }
}

const CLOSING = ["card.closed", "held.released"];

/** A page brings the cards it made; an entry that closes one says how. */
export function cardsAfter(before: Card[], page: Pulled): Card[] {
  const now = new Map([...before, ...page.cards].map((one) => [one.id, one]));
  for (const { raw } of page.entries) {
    if (!raw) continue;
    const { kind, sub, body } = JSON.parse(raw) as { kind: string; sub: string; body: { how?: string } };
    const card = now.get(sub);
    if (card && CLOSING.includes(kind.split("/")[0] ?? "")) now.set(sub, { ...card, closed: body.how ?? "it counts" });
  }
  return [...now.values()];
}

/** The desk took a decision that was made on this tablet; its entry comes with the next pull. */
export const closeCard = (id: string, how: string): Promise<void> =>
  within("readwrite", async (stores) => {
    const all = ((await got(stores.kept.get("cards"))) ?? []) as Card[];
    stores.kept.put(all.map((one) => (one.id === id ? { ...one, closed: how } : one)), "cards");
  });

interface Told {
  head?: { n: number; hash: string };
  safe_n?: number;
  now_ms?: number;
}

/** What every answer of the desk tells besides. `spent` is how long it was under way, ms. */
export function told(answer: Told, spent: number): Partial<Kept> {
  const seen_ms = Date.now();
  const off = answer.now_ms === undefined ? {} : { off: Math.round(answer.now_ms - (seen_ms - spent / 2)) };
  const safe = answer.safe_n === undefined ? {} : { safe_n: answer.safe_n };
  const head = answer.head === undefined ? {} : { head_n: answer.head.n };
  return { ...off, ...safe, ...head, seen_ms };
}

/** The desk's history changed: copies go, own work stays and is offered again from `last` on. */
export const begin_again = (epoch: string, last: number): Promise<void> =>
  within("readwrite", async (stores) => {
    const now = await kept(stores);
    stores.objects.clear();
    stores.ribbons.clear();
    stores.kept.delete("heads");
    let lost = 0;
    for (const one of (await got(stores.events.getAll())) as Own[]) {
      if (one.seq <= last) continue;
      if (one.n) lost += 1;
      stores.events.put({ ...one, status: "waiting", n: 0, why: "" });
    }
    for (const one of (await got(stores.pictures.getAll())) as Picture[]) stores.pictures.put({ ...one, whole: false, sent: 0 });
    const safe_n = now.epoch === epoch ? now.safe_n : 0;
    keep(stores, { ...now, epoch, n: 0, hash: "", safe_n, asked: "", back_ms: Date.now(), back_lost: lost });
  });

/** The desk lacks what follows `last`: those events wait again. */
export const again_from = (last: number): Promise<void> =>
  within("readwrite", async (stores) => {
    const range = IDBKeyRange.lowerBound(last, true);
    for (const one of (await got(stores.events.getAll(range))) as Own[]) stores.events.put({ ...one, status: "waiting" });
  });

/** Copies made for one person are not shown to the next: they go, and are fetched anew. Own work stays. */
export const handOver = (person: string): Promise<void> =>
  within("readwrite", async (stores) => {
    const before = await got(stores.kept.get("copies_for"));
    if (before === person) return;
    stores.kept.put(person, "copies_for");
    stores.objects.clear();
    stores.ribbons.clear();
    stores.kept.delete("cards");
    stores.kept.delete("round");
    keep(stores, { ...(await kept(stores)), n: 0, hash: "", asked: "" });
  });

interface Given {
  seq: number;
  n: number;
  id: string;
  status: Own["status"];
  raw: string;
  open: Own["open"];
}

/** The tablet's own entries, back from the desk after its store was emptied. What lies here already stays as it is. */
export const giveBack = (events: Given[]): Promise<void> =>
  within("readwrite", async (stores) => {
    for (const one of events) {
      if (await got(stores.events.getKey(one.seq))) continue;
      const { kind, sub, who, t } = JSON.parse(one.raw) as Own;
      stores.events.put({ ...one, sig: "", kind, sub, who, t, why: "" } satisfies Own);
    }
  });
