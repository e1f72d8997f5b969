// One's own view. Quiet on purpose: no colour, no large words; once locked, the page is a blank.
import { useState } from "preact/hooks";
import { api, type AnswerOnClaim, type ClaimShown, type NewBallot, type ObjectShown } from "../api/client";
import { Act, Sending, Shown, useAsked } from "../parts/asking";
import { Covered } from "../parts/cover";
import { Field, OneOf } from "../parts/fields";
import { outcomeWord } from "../parts/mark";
import { plain } from "../parts/words";
import { place, to } from "../route";

type Word = NewBallot["outcome"];
type Verdict = AnswerOnClaim["verdict"];

export function BallotPage() {
  const id = place.value.piece;
  const asked = useAsked(() => api.object_detail({ object_id: id }), [id]);
  const [locked, setLocked] = useState(false);
  if (locked) return <Blank stand={asked.value?.stand ?? ""} />;
  return (
    <div class="still">
      <Shown of={asked}>
        {(one) => (one.own_ballots.some((b) => b.round === one.round) || one.stepped_back ? <Blank stand={one.stand} /> : <Covered><Ballot of={one} then={() => setLocked(true)} /></Covered>)}
      </Shown>
    </div>
  );
}

function Blank({ stand }: { stand: string }) {
  return (
    <div class="still blank">
      <h1 class="small">Locked</h1>
      <p role="status">It is at the desk.</p>
      <p>
        <a class="button plain" href={to("round", "", { stand })}>
          Next object
        </a>
      </p>
    </div>
  );
}

const INSTEAD: Record<string, string> = {
  maker: "Such as: attributed to, workshop of, with the name. Left empty: it is left out.",
  date: "Your years below count; words here too, such as c.1790.",
  material: "Such as: electroplate, Britannia metal. Left empty: it is left out.",
};
const meant = (verdict: Verdict, words: string | undefined): Record<string, string> => (verdict !== "holds" && words?.trim() ? { words: words.trim() } : {});
const WORDS: Word[] = ["accept", "relabel", "remove", "refer"];

function Ballot({ of, then }: { of: ObjectShown; then: () => void }) {
  const [outcome, setOutcome] = useState("");
  const [verdicts, setVerdicts] = useState<Record<string, Verdict>>({});
  const [instead, setInstead] = useState<Record<string, string>>({});
  const [years, setYears] = useState({ earliest: "", latest: "", sure: "0.8" });
  const [reason, setReason] = useState("");
  const [wording, setWording] = useState("");
  const run = async () => {
    if (!outcome) throw new Error("Choose one of the four.");
    const answers = Object.entries(verdicts).map(([claim, verdict]) => ({ claim, verdict, reason: verdict === "holds" ? "" : reason, instead: meant(verdict, instead[claim]) }));
    const date = years.earliest && years.latest ? { earliest: Number(years.earliest), latest: Number(years.latest), sure: Number(years.sure) } : null;
    const reasons = reason.trim() ? [reason.trim()] : [];
    await api.lock_ballots({ ballots: [{ object: of.id, round: of.round, outcome: outcome as Word, answers, date, reasons, wording }] });
    then();
  };
  return (
    <>
      <h1 class="small">
        Stand <span class="stand">{of.stand}</span>, No. {of.number}
        {of.round === 2 && " · second round"}
      </h1>
      <p class="label-card">{of.text}</p>
      <Sending run={run} submit="Lock" legend="Your view">
        <OneOf legend="Your view" value={outcome} set={setOutcome} of={WORDS.map((value) => ({ value, words: outcomeWord(value) }))} />
        <details>
          <summary>On the words, one by one</summary>
          {onePerKey(of.claims).map((claim) => (
            <div key={claim.key}>
            <OneOf
              legend={`“${claim.words}” (${plain(claim.side)})`}
              value={verdicts[claim.key] ?? ""}
              set={(value) => setVerdicts({ ...verdicts, [claim.key]: value as Verdict })}
              of={[
                { value: "holds", words: "holds" },
                { value: "does_not_hold", words: "does not hold" },
                { value: "cannot_say", words: "cannot say" },
              ]}
            />
            {verdicts[claim.key] && verdicts[claim.key] !== "holds" && (
              <Field name={`What you would sign instead of “${claim.words}”`} hint={INSTEAD[claim.side] ?? "Words as a label says them. Left empty: it is left out."} value={instead[claim.key] ?? ""} set={(words) => setInstead({ ...instead, [claim.key]: words })} />
            )}
            </div>
          ))}
        </details>
        <details>
          <summary>When it was made</summary>
          <div class="three">
            <Field name="Earliest year" kind="number" value={years.earliest} set={(earliest) => setYears({ ...years, earliest })} />
            <Field name="Latest year" kind="number" value={years.latest} set={(latest) => setYears({ ...years, latest })} />
            <Field name="How sure, 0.5 to 0.95" value={years.sure} set={(sure) => setYears({ ...years, sure })} />
          </div>
        </details>
        <Field name="What you saw that decides it" hint="About the object. Needed unless it passes." value={reason} set={setReason} long needed={outcome !== "" && outcome !== "accept"} />
        <Field name="Words you could sign" hint="Only if other words are needed." value={wording} set={setWording} long />
      </Sending>
      <Act plain run={async () => { await api.step_back({ object_id: of.id }); then(); }}>
        Step back from this object
      </Act>
      <p class="quiet">No reason is asked. It cannot be undone.</p>
    </>
  );
}

/** One question a key: words that claim the same are answered together. */
function onePerKey(claims: ClaimShown[]): ClaimShown[] {
  return [...new Map(claims.map((one) => [one.key, one])).values()];
}
