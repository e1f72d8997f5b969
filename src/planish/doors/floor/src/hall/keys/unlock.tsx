// The PIN page: who holds the tablet now. Works without the desk for a PIN that this tablet knows.
import { useEffect, useState } from "preact/hooks";
import { Choose } from "../../parts/fields";
import { recall } from "../outbox/store";
import { Away, Refused } from "../outbox/wire";
import { WorkLine } from "../parts/frame";
import { Press } from "../parts/press";
import { enter, setPin, unlockAtDesk } from "../pair/pairing";
import { PinField } from "../pair/pair";
import { people, tablet } from "../state";
import { tryPin } from "./pin";

export function UnlockPage() {
  const [person, setPerson] = useState("");
  const [pin, setPinText] = useState("");
  const [again, setAgain] = useState("");
  const [fresh, setFresh] = useState(false);
  useEffect(() => {
    void recall<string>("copies_for").then(async (found) => setPerson(found ?? (await recall<string>("person")) ?? people.value[0]?.id ?? ""));
    void recall("copies_for").then((found) => setFresh(!found));
  }, []);
  const known = people.value.find((one) => one.id === person);
  const run = async () => {
    if (!/^\d{8}$/.test(pin)) throw new Error("The PIN has eight figures.");
    if (fresh && pin !== again) throw new Error("The two are not the same.");
    await unlock(person, pin, fresh);
  };
  return (
    <div class="floor">
      <header class="top"><span class="giant">planish</span></header>
      <WorkLine />
      <main tabIndex={-1}>
        <h1>{fresh ? "Choose your PIN" : "Your PIN"}</h1>
        <p class="quiet">{tablet.value.fair_name}</p>
        {people.value.length > 1 ? <Choose name="Who holds the tablet" value={person} set={setPerson} of={people.value.map((one) => ({ value: one.id, words: one.name }))} /> : <p>{known?.name ?? person}</p>}
        <form onSubmit={(event) => event.preventDefault()}>
          <PinField name="PIN, eight figures" value={pin} set={setPinText} />
          {fresh && <PinField name="The PIN again" value={again} set={setAgain} />}
          <div class="row"><Press wide run={run}>{fresh ? "Set the PIN" : "Unlock"}</Press></div>
        </form>
        {fresh && <p class="quiet">Not a birthday, not eight equal figures. You will type it after five idle minutes.</p>}
      </main>
    </div>
  );
}

async function unlock(person: string, pin: string, fresh: boolean): Promise<void> {
  const tried = await tryPin(person, pin);
  if (tried === "wait") throw new Error("Five wrong tries. Wait five minutes.");
  if (tried === "wrong") throw new Error("That is not the PIN.");
  const known = people.value.find((one) => one.id === person);
  if (tried === "right" && known) return enter({ ...known, roles: known.roles ?? [] }, pin);
  try {
    await (fresh ? setPin(person, pin).catch((failure: unknown) => otherwise(failure, person, pin)) : unlockAtDesk(person, pin).catch((failure: unknown) => firstPin(failure, person, pin)));
  } catch (failure) {
    if (failure instanceof Away) throw new Error("This tablet does not know this PIN yet, and the desk does not answer. Go near its network once.");
    if (failure instanceof Refused) throw new Error(`${failure.trouble.what} ${failure.trouble.remedy}`.trim());
    throw failure;
  }
}

/** A PIN was set before: then it opens. */
async function otherwise(failure: unknown, person: string, pin: string): Promise<void> {
  if (failure instanceof Refused && failure.trouble.code !== "pin.easy") return unlockAtDesk(person, pin);
  throw failure;
}

/** A person the steward just named for this tablet has no PIN yet: this becomes it. */
async function firstPin(failure: unknown, person: string, pin: string): Promise<void> {
  const known = people.value.find((one) => one.id === person) as { pin?: boolean } | undefined;
  if (failure instanceof Refused && known && known.pin === false) return setPin(person, pin);
  throw failure;
}
