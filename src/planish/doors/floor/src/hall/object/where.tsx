// What an object lacks: a key, or itself. And what nobody listed, and what went wrong.
import { useState } from "preact/hooks";
import { Field, OneOf } from "../../parts/fields";
import { useTyped } from "../parts/drafts";
import { Frame } from "../parts/frame";
import { Press } from "../parts/press";
import { go, place, to } from "../go";
import { chance, hex } from "../outbox/bytes";
import { note } from "../round/doing";
import { away, nextOn, numberOf } from "../round/standing";
import { docs, tablet } from "../state";
import { docHere, Missing } from "./page";

export function WherePage() {
  const doc = docHere();
  if (!doc) return <Missing />;
  const say = (reason: string) => async () => {
    await note({ kind: "object.not_found/1", sub: doc.id, body: { reason } });
    const next = nextOn(doc.stand, doc.id);
    if (next) go("object", next.id);
    else go("stand", doc.stand);
  };
  const back = async () => {
    await note({ kind: "object.presented/1", sub: doc.id, body: {} });
    go("object", doc.id);
  };
  return (
    <Frame stand={doc.stand} title={`No. ${doc.number} cannot be seen`} bar={<a class="button plain" href={to("object", doc.id)}>Back to the object</a>}>
      <p class="label-card">{doc.text}</p>
      <div class="stack">
        <Press wide run={say("locked")}>Needs a key</Press>
        <Press wide run={say("absent")}>Not found on the stand</Press>
        <Press wide plain run={say("not_seen")}>There, but not looked at</Press>
        {away(doc) && <Press wide plain run={back}>It lies before us now</Press>}
      </div>
    </Frame>
  );
}

interface Found {
  number: string;
  text: string;
}

export function UnlistedPage() {
  const stand = place.value.piece;
  const [given, set, clear] = useTyped<Found>(`unlisted:${stand}`, { number: "", text: "" });
  const run = async () => {
    if (!given.text.trim()) throw new Error("Copy the words that hang at it, or say what it is.");
    const id = `u-${tablet.value.dev}-${hex(chance(5))}`;
    await note({ kind: "object.unlisted/1", sub: id, body: { stand, number: given.number.trim(), text: given.text.trim() } });
    await clear();
    go("stand", stand);
  };
  return (
    <Frame stand={stand} title="Unlisted object" bar={<><Press run={run}>Note it</Press><a class="button plain" href={to("stand", stand)}>Back</a></>}>
      <p>It stands on stand {numberOf(stand)} and is on no list.</p>
      <Field name="Number on it" hint="Left empty: none." value={given.number} set={(number) => set({ ...given, number })} />
      <Field name="Its words" hint="As they hang; if none hang, what it is." value={given.text} set={(text) => set({ ...given, text })} long />
    </Frame>
  );
}

const SORTS = [
  { value: "damage", words: "Damage" },
  { value: "injury", words: "Injury" },
  { value: "loss", words: "Loss" },
  { value: "dispute", words: "Dispute" },
  { value: "other", words: "Something else" },
];

export function IncidentPage() {
  const piece = place.value.piece;
  const stand = docs.value.get(piece)?.stand ?? piece;
  const [given, set, clear] = useTyped(`incident:${piece}`, { sort: "", words: "" });
  const [done, setDone] = useState(false);
  const run = async () => {
    if (!given.sort) throw new Error("Choose what kind it is.");
    if (!given.words.trim()) throw new Error("Say in a few words what happened.");
    await note({ kind: "incident.noted/1", sub: piece || tablet.value.fair, body: { sort: given.sort, words: given.words.trim() } });
    await clear();
    setDone(true);
  };
  const bar = <>{!done && <Press run={run}>Note the incident</Press>}<a class="button plain" href={stand ? to("stand", stand) : "#/"}>Back</a></>;
  return (
    <Frame stand={stand} title="Incident" bar={bar}>
      {done ? <p role="status">Noted, on this tablet. Tell the desk at once as well, by voice.</p> : (
        <>
          <p class="caution">If somebody is hurt, call for help first.</p>
          <OneOf legend="What kind" value={given.sort} set={(sort) => set({ ...given, sort })} of={SORTS} />
          <Field name="What happened" hint="About the object and the place, not about persons." value={given.words} set={(words) => set({ ...given, words })} long />
        </>
      )}
    </Frame>
  );
}
