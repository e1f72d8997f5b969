// Which events travel together, and what each answer does to the queue. Pure: the sender and its tests share it.
import { utf8 } from "./bytes";
import type { Own, Status } from "./shapes";

export const MOST_EVENTS = 200;
export const MOST_BYTES = 1_000_000;

export interface Result {
  id: string;
  status: Status;
  n?: number;
  why?: string;
  last?: number;
  epoch?: string;
}

const parcel = (one: Own) => ({ raw: one.raw, open: one.open, sig: one.sig });

/** From the head of the queue, at most 200 events or 1 MiB; a single larger event goes alone. */
export function batch(waiting: Own[]): { events: ReturnType<typeof parcel>[]; rows: Own[] } {
  const rows: Own[] = [];
  let size = 200;
  for (const one of waiting.slice(0, MOST_EVENTS)) {
    size += utf8(JSON.stringify(parcel(one))).length + 1;
    if (rows.length && size > MOST_BYTES) break;
    rows.push(one);
  }
  return { events: rows.map(parcel), rows };
}

export interface Answered {
  rows: Own[];
  /** Send again from this number on; the desk lacks what follows it. */
  from: number | null;
  /** Same number with other bytes, or bytes the desk does not take: nothing more is sent, a person must look. */
  stop: string;
  epoch: string;
}

/** Each event by its own answer, never by the HTTP code. */
export function answered(sent: Own[], results: Result[]): Answered {
  const by = new Map(results.map((one) => [one.id, one]));
  const rows: Own[] = [];
  let from: number | null = null;
  let stop = "";
  let epoch = "";
  for (const one of sent) {
    const found = by.get(one.id);
    if (!found) continue;
    if (found.status === "gap" || found.status === "epoch") {
      from = Math.min(from ?? Infinity, found.last ?? 0);
      if (found.status === "epoch") epoch = found.epoch ?? "";
      continue;
    }
    if (found.status === "clash" || found.status === "refused") stop ||= found.why ?? "The desk holds other bytes under this number.";
    rows.push({ ...one, status: kept(one, found.status), n: found.n || one.n, why: found.why ?? one.why });
  }
  return { rows, from, stop, epoch };
}

/** `have` tells where it lies; how it was judged the first time stays. */
const kept = (one: Own, status: Status): Own["status"] => (status === "have" && one.status !== "waiting" && one.n ? one.status : status);
