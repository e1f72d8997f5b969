// Pairing: the code from the desk, four words both sides derive, and the person's PIN.
import { chance, hex } from "../outbox/bytes";
import { changeKept, readKept, remember } from "../outbox/store";
import { giveBack, handOver } from "../outbox/taking";
import { ask } from "../outbox/wire";
import { theKey } from "../keys/device";
import { keepPin } from "../keys/pin";
import { load, people, who, wrote } from "../state";
import { plainHttp } from "../parts/warnings";
import { holdPin } from "../keys/meeting";
import { fourWords } from "./fourwords";
import type { Person } from "../outbox/shapes";

interface Asked {
  pairing: string;
  words: string[];
  desk_key: string;
  fair: string;
  fair_name: string;
}

export interface Begun {
  words: string[];
  same: boolean;
}

/** Ask the desk. `same` is false when the desk's words are not the ones derived here: do not go on then. */
export async function askToPair(code: string): Promise<Begun> {
  const before = await readKept();
  const key = await theKey();
  const nonce = hex(chance(32));
  const checks = { installed: matchMedia("(display-mode: standalone)").matches, tls: !plainHttp, persisted: Boolean(await navigator.storage?.persisted?.().catch(() => false)) };
  const again = before.dev || localStorage.getItem("planish.floor.dev") || undefined;
  const said = await ask<Asked>("pair", { body: { code: code.trim(), key, nonce, name: nameOfThis(), checks, ...(again ? { again } : {}) } });
  const words = fourWords(code, said.desk_key, key, nonce);
  await remember("desk_key", said.desk_key);
  await remember("four_words", words);
  await changeKept((now) => ({ ...now, state: "waiting", trouble: "", fair: said.fair, fair_name: said.fair_name }));
  await load();
  return { words, same: words.join(" ") === said.words.join(" ") };
}

const nameOfThis = (): string => (/iPad/.test(navigator.userAgent) ? "iPad" : /iPhone/.test(navigator.userAgent) ? "iPhone" : /Android/.test(navigator.userAgent) ? "Android" : "browser");

interface State {
  state: "waiting" | "yes" | "no" | "gone";
  dev: string;
  fair: string;
  person: string;
}

interface Device {
  dev: string;
  fair: string;
  fair_name: string;
  people: (Person & { pin?: boolean })[];
  epoch: string;
  last_seq: number;
  last_digest: string;
}

/** Has the steward said yes? On yes the tablet takes its place; own work that was already here goes on in its chain. */
export async function pairingNow(): Promise<State["state"]> {
  const said = await ask<State>("pair/state");
  if (said.state === "no" || said.state === "gone") {
    const trouble = said.state === "no" ? "The steward said no." : "The code has run out.";
    await changeKept((now) => ({ ...now, state: now.dev ? "strange" : "none", trouble }));
    await load();
    return said.state;
  }
  if (said.state !== "yes") return said.state;
  const device = await ask<Device>("device");
  await remember("people", device.people);
  await remember("person", said.person);
  await changeKept((now) => {
    const going_on = now.dev === device.dev && now.seq >= device.last_seq;
    const { seq, dprev } = going_on ? now : { seq: device.last_seq, dprev: device.last_digest };
    return { ...now, state: "paired", dev: device.dev, fair: device.fair, fair_name: device.fair_name, seq, dprev, epoch: going_on ? now.epoch : device.epoch, trouble: "" };
  });
  if (device.last_seq) await fetchOwn();
  localStorage.setItem("planish.floor.dev", device.dev);
  await navigator.storage?.persist?.().catch(() => false);
  await wrote(true);
  return "yes";
}

async function fetchOwn(): Promise<void> {
  let after = 0;
  for (let turn = 0; turn < 200; turn += 1) {
    const page = await ask<{ events: Parameters<typeof giveBack>[0]; more: boolean }>("own", { query: { after_seq: after } });
    await giveBack(page.events);
    after = page.events.at(-1)?.seq ?? after;
    if (!page.more || !page.events.length) return;
  }
}

/** Set the PIN, and be unlocked with it. */
export async function setPin(person: string, pin: string): Promise<void> {
  await ask("pair/pin", { body: { person, pin } });
  await unlockAtDesk(person, pin);
}

/** Unlock with the desk's help: for somebody whose PIN this tablet does not know yet. */
export async function unlockAtDesk(person: string, pin: string): Promise<void> {
  const said = await ask<{ who: string; name: string; roles: string[] }>("unlock", { body: { person, pin } });
  await keepPin(person, pin);
  await enter({ id: said.who, name: said.name, roles: said.roles }, pin);
}

/** This person holds the tablet from here on. Copies made for somebody else go first: each sees only what is theirs. */
export async function enter(person: Person, pin: string): Promise<void> {
  holdPin(pin);
  await handOver(person.id);
  const known = people.value.filter((one) => one.id !== person.id);
  await remember("people", [...known, person]);
  who.value = person;
  await wrote(true);
}
