// Pair this tablet: the code from the desk's screen, the four words, the PIN.
import { useEffect, useState } from "preact/hooks";
import { Field } from "../../parts/fields";
import { go, place } from "../go";
import { recall } from "../outbox/store";
import { Press } from "../parts/press";
import { LOST, plainHttp } from "../parts/warnings";
import { tablet } from "../state";
import { askToPair, pairingNow } from "./pairing";
import { Scanner } from "./scanner";

export function PairPage() {
  const { state } = tablet.value;
  return (
    <div class="floor">
      <header class="top"><span class="giant">planish</span></header>
      <main tabIndex={-1}>
        <h1>Pair this tablet</h1>
        {plainHttp && <PlainHttp />}
        {state === "waiting" ? <Words /> : <Code key={place.value.piece} />}
      </main>
    </div>
  );
}

export function PlainHttp() {
  return (
    <div class="note">
      <p><strong>Not a secure connection.</strong> planish works, but this is lost:</p>
      <ul>{LOST.map((one) => <li key={one}>{one}</li>)}</ul>
      <p>The steward can set up a secure one; see the desk's page on devices.</p>
    </div>
  );
}

function Code() {
  const [code, setCode] = useState(place.value.page === "pair" ? place.value.piece : "");
  const [wrong, setWrong] = useState("");
  const run = async (given: string) => {
    if (!given.trim()) throw new Error("Scan or type the code that the desk shows.");
    const { same } = await askToPair(given);
    setWrong(same ? "" : "other");
    if (same) go("");
  };
  return (
    <>
      {tablet.value.trouble && <p class="warn" role="alert">{tablet.value.trouble} Ask for a new code.</p>}
      <p>The desk shows a code on its page on tablets. It works once, for ten minutes.</p>
      <ol class="steps">
        <li>Switch on this tablet's own screen lock. It protects what lies here; a PIN alone does not.</li>
        <li>On an iPhone or iPad: add planish to the home screen first, and pair inside it.</li>
        <li>Scan the code with the camera, or type it.</li>
      </ol>
      <Scanner then={(found) => void run(found)} />
      <Field name="Code" value={code} set={setCode} hint="Capitals and dashes do not matter." />
      <div class="row"><Press wide run={() => run(code)}>Pair</Press></div>
      {wrong && <p class="warn" role="alert">The desk's words are not the ones made here. Do not go on; tell the steward.</p>}
    </>
  );
}

function Words() {
  const [words, setWords] = useState<string[]>([]);
  useEffect(() => {
    void recall<string[]>("four_words").then((found) => setWords(found ?? []));
    const look = () => void pairingNow().catch(() => {});
    const timer = setInterval(look, 1500);
    look();
    return () => clearInterval(timer);
  }, []);
  return (
    <>
      <p>The desk must show the same four words. If they differ, stop.</p>
      <ul class="four-words" aria-label="Four words">{words.map((one) => <li key={one}>{one}</li>)}</ul>
      <p role="status">Waiting for the steward's yes …</p>
    </>
  );
}

export function PinField({ name, value, set }: { name: string; value: string; set: (value: string) => void }) {
  return (
    <p class="field">
      <label>
        {name}
        <input class="pin" type="password" inputMode="numeric" autocomplete="off" maxLength={8} value={value} onInput={(event) => set(event.currentTarget.value.replace(/\D/g, ""))} />
      </label>
    </p>
  );
}
