// Where each object of my round stands, as this tablet knows: from the desk's copy, and from what was done here since.
import type { Doc, Own, Pending } from "../outbox/shapes";
import { docs, held, mine, round, who } from "../state";

export const SETTLED = ["confirmed", "final", "withdrawn"];

const ballot = (kind: string) => kind.startsWith("ballot.locked") || kind.startsWith("ballot.recused");
const roundIn = (raw: string): number => {
  const body = (JSON.parse(raw) as { body: { round?: number } }).body;
  return body.round ?? 1;
};

/** Did this person say, on this tablet or before, what the round asks? */
export function said(doc: Doc, own: Own[] = mine.value, pend: Pending[] = held.value): boolean {
  const me = who.value?.id;
  if (doc.stepped_back || doc.own_ballots.some((one) => one.round === doc.round)) return true;
  const here = own.some((one) => one.sub === doc.id && one.who === me && ballot(one.kind) && (one.kind.startsWith("ballot.recused") || roundIn(one.raw) === doc.round));
  return here || pend.some((one) => one.drafts.some((draft) => draft.sub === doc.id && draft.who === me));
}

export function away(doc: Doc): string {
  const last = mine.value.filter((one) => one.sub === doc.id && /^object\.(not_found|presented)/.test(one.kind)).at(-1);
  if (last?.kind.startsWith("object.not_found")) return (JSON.parse(last.raw) as { body: { reason?: string } }).body.reason === "locked" ? "needs key" : "not found";
  if (last) return "";
  if (doc.key === "needs") return "needs key";
  return doc.examination === "not_found" ? "not found" : "";
}

export const open = (doc: Doc): boolean => !SETTLED.includes(doc.examination) && doc.may_vote === "" && !said(doc);

/** The objects of a stand in the order of its shelves, then what is not on the list. */
export function onStand(stand: string): Doc[] {
  const order = round.value.stands.find((one) => one.id === stand)?.objects ?? [];
  const at = new Map(order.map((id, n) => [id, n]));
  const here = [...docs.value.values()].filter((one) => one.stand === stand && one.examination !== "withdrawn");
  return here.sort((a, b) => (at.get(a.id) ?? 1e6) - (at.get(b.id) ?? 1e6) || a.number.localeCompare(b.number, "en", { numeric: true }));
}

export const numberOf = (stand: string): string => round.value.stands.find((one) => one.id === stand)?.number || stand;

/** The next open object of the stand, in shelf order, after `id` and then from the beginning. */
export function nextOn(stand: string, id: string): Doc | undefined {
  const all = onStand(stand);
  const at = all.findIndex((one) => one.id === id);
  return [...all.slice(at + 1), ...all.slice(0, Math.max(at, 0))].find((one) => one.id !== id && open(one) && !away(one));
}
