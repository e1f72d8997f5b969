// What a page does with the outbox: each of these is on the tablet, flushed, when it returns.
import { hold, takeBack, write } from "../outbox/outbox";
import type { Doc, Draft } from "../outbox/shapes";
import { who, wrote } from "../state";

export const me = (): string => {
  if (!who.value) throw new Error("The tablet is locked.");
  return who.value.id;
};

export const ballotDraft = (doc: Doc, ballot: Record<string, unknown>): Draft => ({
  kind: "ballot.locked/1",
  sub: doc.id,
  who: me(),
  body: { round: doc.round, ballot: { round: doc.round, ...ballot } },
});

/** Pass one object or the rest of a shelf; it may be taken back for ten seconds. */
export async function pass(all: Doc[], words: string): Promise<void> {
  const drafts = all.map((one) => ballotDraft(one, { outcome: "accept" }));
  await hold(drafts, words, all[0]?.stand ?? "");
  await wrote();
}

export async function undo(key: number): Promise<boolean> {
  const done = await takeBack(key);
  await wrote();
  return done;
}

export async function note(draft: Omit<Draft, "who">): Promise<void> {
  await write([{ ...draft, who: me() }]);
  await wrote();
}
