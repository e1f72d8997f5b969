// What the pages show, kept up from the store. Every page of this browser tells the others when it wrote something.
import { computed, signal } from "@preact/signals";
import { owns, pendings } from "./outbox/outbox";
import { type Doc, NOTHING, type Kept, type Own, type Pending, type Person, type Round } from "./outbox/shapes";
import { got, kept, within } from "./outbox/store";
import type { Card } from "./outbox/taking";
import { waitingOf } from "./outbox/outbox";

export const tablet = signal<Kept>(NOTHING);
export const mine = signal<Own[]>([]);
export const held = signal<Pending[]>([]);
export const docs = signal<Map<string, Doc>>(new Map());
export const cards = signal<Card[]>([]);
export const round = signal<Round>({ stands: [], people: [] });
export const people = signal<Person[]>([]);
export const pictures = signal<{ sha: string; whole: boolean; object: string; sent: number; size: number }[]>([]);
export const opened = signal(false);

/** The person unlocked now; null while the tablet is locked. */
export const who = signal<Person | null>(null);
export const line = signal<"unknown" | "here" | "away" | "unlock" | "full">("unknown");
export const storeTrouble = signal("");
export const deskTrouble = signal("");
export const now = signal(Date.now());
setInterval(() => {
  now.value = Date.now();
}, 1000);

export const waiting = computed(() => waitingOf(mine.value));
export const waitingCount = computed(() => waiting.value.length + held.value.reduce((sum, one) => sum + one.drafts.length, 0));
export const oldestWaiting = computed(() => Math.min(...waiting.value.map((one) => one.t), ...held.value.map((one) => one.made)));
export const picturesWaiting = computed(() => pictures.value.filter((one) => !one.whole));

const news = "BroadcastChannel" in globalThis ? new BroadcastChannel("planish-floor") : null;
let nudge = () => {};
export const onNews = (then: () => void) => {
  nudge = then;
};
news?.addEventListener("message", () => {
  void load().then(nudge);
});

export async function load(all = true): Promise<void> {
  const found = await within("readonly", async (stores) => ({
    tablet: await kept(stores),
    cards: ((await got(stores.kept.get("cards"))) ?? []) as Card[],
    round: ((await got(stores.kept.get("round"))) ?? { stands: [], people: [] }) as Round,
    people: ((await got(stores.kept.get("people"))) ?? []) as Person[],
    pictures: (await got(stores.pictures.getAll())).map(({ bytes: _, ...rest }) => rest),
    docs: all ? ((await got(stores.objects.getAll())) as Doc[]) : null,
  }));
  const [own, pend] = await Promise.all([owns(), pendings()]);
  mine.value = own;
  held.value = pend;
  tablet.value = found.tablet;
  cards.value = found.cards;
  round.value = found.round;
  people.value = found.people;
  pictures.value = found.pictures;
  if (found.docs) docs.value = new Map(found.docs.map((one) => [one.id, one]));
  opened.value = true;
}

/** After a write of this page: show it, tell the other pages, wake the sender. */
export async function wrote(all = false): Promise<void> {
  await load(all);
  news?.postMessage("wrote");
  nudge();
}
