// The floor's sentences about where the work is. Never the bare word for it: each tick says where.
import type { Kept, Own } from "../outbox/shapes";

export function ticks(one: Own, now: Kept): string {
  if (one.status === "waiting") return "on this tablet";
  if (one.status === "clash" || one.status === "refused") return "on this tablet; the desk needs help with it";
  const at = `at the desk, no. ${one.n}`;
  return one.n <= now.safe_n ? `${at}, and in the backup` : at;
}

/** A span in the words of a clock: "12 min". */
export function span(ms: number): string {
  const minutes = Math.floor(Math.max(0, ms) / 60_000);
  if (minutes < 1) return "less than a minute";
  if (minutes < 120) return `${minutes} min`;
  return minutes < 60 * 48 ? `${Math.floor(minutes / 60)} h` : `${Math.floor(minutes / 1440)} days`;
}

const DID: Record<string, string> = {
  "ballot.locked": "own view locked",
  "ballot.recused": "stepped back",
  "observation.made": "a look noted",
  "picture.taken": "picture",
  "object.not_found": "not found, or locked away",
  "object.unlisted": "unlisted object",
  "object.presented": "laid before the panel",
  "incident.noted": "incident",
  "question.asked": "question",
  "label.asked": "words asked",
  "label.checked": "hung label read",
};

export const did = (kind: string): string => DID[kind.split("/")[0] ?? ""] ?? kind;

export const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
