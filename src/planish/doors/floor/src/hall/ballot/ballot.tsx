// One's own view. Quiet on purpose: no colour, no large words. Locked, it leaves a blank; others' views do not exist before.
import { useState } from "preact/hooks";
import { Field, OneOf } from "../../parts/fields";
import { outcomeWord } from "../../parts/mark";
import { plain } from "../../parts/words";
import { useTyped } from "../parts/drafts";
import { Frame } from "../parts/frame";
import { Press } from "../parts/press";
import { to } from "../go";
import type { Doc } from "../outbox/shapes";
import { ballotDraft, note } from "../round/doing";
import { nextOn, open } from "../round/standing";
import { docHere, Missing } from "../object/page";
import { plainHttp } from "../parts/warnings";

const OUTCOMES = ["accept", "relabel", "remove", "refer"];
const VERDICTS = [
  { value: "holds", words: "holds" },
  { value: "does_not_hold", words: "does not hold" },
  { value: "cannot_say", words: "cannot say" },
];

interface View {
  outcome: string;
  verdicts: Record<string, string>;
  earliest: string;
  latest: string;
  reason: string;
  wording: string;
}

const EMPTY: View = { outcome: "", verdicts: {}, earliest: "", latest: "", reason: "", wording: "" };

export function BallotPage() {
  const doc = docHere();
  const [locked, setLocked] = useState(false);
  if (!doc) return <Missing />;
  if (locked || !open(doc)) return <Blank of={doc} />;
  return <Ballot of={doc} then={() => setLocked(true)} />;
}

function Blank({ of }: { of: Doc }) {
  const next = nextOn(of.stand, of.id);
  const bar = next ? <a class="button plain" href={to("object", next.id)}>Next: No. {next.number}</a> : <a class="button plain" href={to("stand", of.stand)}>To the stand</a>;
  return (
    <Frame stand={of.stand} title="Locked" still bar={bar}>
      <p role="status">It is on this tablet, and goes to the desk by itself.</p>
    </Frame>
  );
}

function year(text: string): number | null {
  const n = Number(text);
  return text.trim() && Number.isInteger(n) && n >= -5000 && n <= 2100 ? n : null;
}

/** What the log takes: the same fields as at the desk. Throws a sentence when something is missing. */
export function viewOf(of: Doc, given: View): Record<string, unknown> {
  if (!given.outcome) throw new Error("Choose one of the four.");
  const reason = given.reason.trim();
  if (given.outcome !== "accept" && !reason) throw new Error("Say what you saw that decides it.");
  const earliest = year(given.earliest);
  const latest = year(given.latest);
  if ((given.earliest.trim() || given.latest.trim()) && (earliest === null || latest === null)) throw new Error("Give both years as whole numbers, or neither.");
  if (earliest !== null && latest !== null && earliest > latest) throw new Error("The earlier year comes first.");
  const known = new Set(of.claims.map((one) => one.key));
  const answers = Object.entries(given.verdicts).filter(([claim]) => known.has(claim));
  return {
    outcome: given.outcome,
    answers: answers.map(([claim, verdict]) => ({ claim, verdict, reason: verdict === "holds" ? "" : reason, instead: [] })),
    date: earliest === null || latest === null ? null : { years: { earliest, latest }, best: null, sure: 0.8 },
    reasons: reason ? [reason] : [],
    wording: given.wording.trim(),
  };
}

function Ballot({ of, then }: { of: Doc; then: () => void }) {
  const [given, set, clear] = useTyped<View>(`ballot:${of.id}:${of.round}`, EMPTY);
  const field = (name: keyof View) => (value: string) => set({ ...given, [name]: value });
  const lock = async () => {
    const view = viewOf(of, given);
    if (plainHttp && !confirm("This connection can be read by others in the hall. Send this view through it all the same? The wired desk is the safe place.")) return;
    const { sub, kind, body } = ballotDraft(of, view);
    await note({ sub, kind, body });
    await clear();
    scrollTo(0, 0);
    then();
  };
  const [asking, ask] = useState(false);
  const stepBack = async () => {
    await note({ kind: "ballot.recused/1", sub: of.id, body: {} });
    await clear();
    then();
  };
  const keys = [...new Map(of.claims.map((one) => [one.key, one])).values()];
  return (
    <Frame stand={of.stand} title={`Your view of No. ${of.number}`} still bar={<><Press run={lock}>Lock</Press><a class="button plain" href={to("object", of.id)}>Back</a></>}>
      {of.round === 2 && <p>Second view, after the talk.</p>}
      <p class="label-card">{of.text}</p>
      <OneOf legend="Your view" value={given.outcome} set={field("outcome")} of={OUTCOMES.map((value) => ({ value, words: outcomeWord(value) }))} />
      <Field name="What you saw that decides it" hint="About the object. Needed unless you accept it." value={given.reason} set={field("reason")} long />
      <Field name="Words you could sign" hint="Only if other words are needed." value={given.wording} set={field("wording")} long />
      <details>
        <summary>On the words, one by one</summary>
        {keys.map((claim) => (
          <OneOf key={claim.key} legend={`“${claim.words}” (${plain(claim.side)})`} value={given.verdicts[claim.key] ?? ""} of={VERDICTS} set={(value) => set({ ...given, verdicts: { ...given.verdicts, [claim.key]: value } })} />
        ))}
      </details>
      <details>
        <summary>When it was made</summary>
        <Field name="Earliest year" kind="number" value={given.earliest} set={field("earliest")} />
        <Field name="Latest year" kind="number" value={given.latest} set={field("latest")} />
        <p class="quiet">Taken as: four chances in five that the truth lies inside (house default).</p>
      </details>
      {asking ? (
        <div class="row">
          <Press run={stepBack}>Yes, step back</Press>
          <button type="button" class="plain" onClick={() => ask(false)}>No</button>
        </div>
      ) : (
        <button type="button" class="plain wide" onClick={() => ask(true)}>Step back from this object</button>
      )}
      <p class="quiet">No reason is asked. It cannot be undone.</p>
    </Frame>
  );
}
