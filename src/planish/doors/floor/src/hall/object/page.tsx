// One object: the label first, as it hangs; then what bears on its words; one tap passes it.
import { Frame } from "../parts/frame";
import { Press } from "../parts/press";
import { go, place, to } from "../go";
import { docs, mine, tablet, who } from "../state";
import type { Doc } from "../outbox/shapes";
import { pass } from "../round/doing";
import { away, nextOn, open, said } from "../round/standing";
import { stateOf } from "../round/stand";
import { did, ticks } from "../parts/words";
import { bare } from "../../parts/words";
import { Label } from "./label";
import { Ribbon } from "./ribbon";

export const docHere = (): Doc | undefined => docs.value.get(place.value.piece);

export function Missing() {
  return (
    <Frame title="Not on this tablet">
      <p>This object is not on this tablet, or not for you to see.</p>
    </Frame>
  );
}

export function ObjectPage() {
  const doc = docHere();
  return doc ? <TheObject of={doc} /> : <Missing />;
}

/** After a pass the next object of the stand stands here at once. */
function onward(doc: Doc): void {
  const next = nextOn(doc.stand, doc.id);
  if (next) go("object", next.id);
  else go("stand", doc.stand);
}

function TheObject({ of }: { of: Doc }) {
  const out = away(of);
  const run = async () => {
    await pass([of], `No. ${of.number} passes`);
    onward(of);
  };
  const next = nextOn(of.stand, of.id);
  const bar = open(of) ? (
    <>
      {of.round === 1 ? <Press run={run}>Pass</Press> : <a class="button" href={to("ballot", of.id)}>Second view</a>}
      {of.round === 1 && <a class="button plain" href={to("ballot", of.id)}>Another view</a>}
    </>
  ) : (
    next && <a class="button" href={to("object", next.id)}>Next: No. {next.number}</a>
  );
  return (
    <Frame stand={of.stand} title={`No. ${of.number}`} bar={bar}>
      {out && <p class="warn">{out === "needs key" ? "Needs a key." : "Noted as not found."}</p>}
      <Label of={of} />
      {!open(of) && <p class="said">{of.may_vote && !said(of) ? `No view of yours is asked here: ${of.may_vote}` : `This object: ${stateOf(of)}.`}</p>}
      <Split of={of} />
      {of.clashes.length > 0 && (
        <section aria-labelledby="clash">
          <h2 id="clash">These cannot both be true</h2>
          {of.clashes.map((one) => <p key={one.id}>{bare(one.sentence)}{!one.hard && <span class="quiet"> Likely, not beyond doubt.</span>}</p>)}
        </section>
      )}
      <Ribbon of={of} />
      <nav class="ways" aria-label="Note something">
        <a class="button plain" href={to("look", of.id)}>Note what you see, or a picture</a>
        <a class="button plain" href={to("words", of.id)}>Ask for other words</a>
        <a class="button plain" href={to("where", of.id)}>Needs key, or not found</a>
      </nav>
      <Seen of={of} />
      <Own of={of} />
      {of.hidden.length > 0 && <p class="quiet">Not shown to you now: {of.hidden.join("; ")}.</p>}
    </Frame>
  );
}

/** What the round gave, once the desk shows it to this person: never before the own view is locked. */
function Split({ of }: { of: Doc }) {
  if (!of.split) return of.round === 2 && open(of) ? <p>The first round is closed. The panel talks; then everybody gives a second view.</p> : null;
  const outcomes = Object.entries(of.split.outcomes).filter(([, count]) => count > 0);
  return (
    <section aria-labelledby="split">
      <h2 id="split">Round {of.split.round}, without names</h2>
      <p>{outcomes.map(([outcome, count]) => `${count} ${outcome}`).join(", ")}.</p>
    </section>
  );
}

function Seen({ of }: { of: Doc }) {
  if (!of.observations.length) return null;
  return (
    <section aria-labelledby="seen">
      <h2 id="seen">What was seen</h2>
      <ul class="ruled">
        {of.observations.map((one) => (
          <li key={one.id}>
            <p><strong>{one.kind.replace(/_/g, " ")}</strong>{one.part && `, ${one.part}`}: {[one.words, ...one.terms, ...one.values.map((v) => `${v.name} ${v.amount} ${v.unit}`)].filter(Boolean).join(" · ")}</p>
            {one.sentences.map((words) => <p key={words}>{bare(words)}</p>)}
            {one.cautions.map((words) => <p key={words} class="caution">Caution: {words}</p>)}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Own work on this object with its ticks. A locked view shows that it is locked, not what it says. */
function Own({ of }: { of: Doc }) {
  const here = mine.value.filter((one) => one.sub === of.id && one.who === who.value?.id);
  if (!here.length) return null;
  return (
    <section aria-labelledby="own">
      <h2 id="own">Your work here</h2>
      <ul class="ruled">
        {here.map((one) => <li key={one.seq}>{did(one.kind)}: {ticks(one, tablet.value)}</li>)}
      </ul>
    </section>
  );
}
