// A pass can be taken back for ten seconds: until then it waits here, and goes to the desk when the time is over, when
// another person signs in, or when the page is left.
import { signal } from "@preact/signals";
import { Failed, type Problem } from "../api/call";
import { api } from "../api/client";

export const UNDO_MS = 10_000;

export interface Pass {
  key: number;
  ids: string[];
  words: string;
  until: number;
}

export const waiting = signal<Pass[]>([]);
export const refused = signal<Problem | null>(null);
let turn = 0;
const timers = new Map<number, ReturnType<typeof setTimeout>>();
let whenSent = () => {};
export const onSent = (then: () => void) => {
  whenSent = then;
};

export function pass(ids: string[], words: string): void {
  const one = { key: ++turn, ids, words, until: Date.now() + UNDO_MS };
  waiting.value = [...waiting.value, one];
  timers.set(one.key, setTimeout(() => void send(one), UNDO_MS));
}

export function undo(one: Pass): void {
  clearTimeout(timers.get(one.key));
  timers.delete(one.key);
  waiting.value = waiting.value.filter((other) => other !== one);
}

const ballots = (one: Pass) => ({ ballots: one.ids.map((object) => ({ object, outcome: "accept" as const })) });

async function send(one: Pass): Promise<void> {
  if (!timers.delete(one.key)) return;
  try {
    await api.lock_ballots(ballots(one));
    refused.value = null;
  } catch (failure) {
    refused.value = failure instanceof Failed ? failure.problem : null;
  } finally {
    waiting.value = waiting.value.filter((other) => other !== one);
    whenSent();
  }
}

/** Everything that waits goes now; come back when it is at the desk. */
export async function flush(): Promise<void> {
  await Promise.all(waiting.value.map((one) => (clearTimeout(timers.get(one.key)), send(one))));
}

addEventListener("pagehide", () => {
  for (const one of waiting.value) {
    clearTimeout(timers.get(one.key));
    timers.delete(one.key);
    void fetch("/api/v1/ballots", { method: "POST", keepalive: true, credentials: "same-origin", headers: { "Content-Type": "application/json" }, body: JSON.stringify(ballots(one)) });
  }
  waiting.value = [];
});
