// One stand: its objects in shelf order; the rest of a shelf passes in two taps, with the count.
import { useState } from "preact/hooks";
import { Frame } from "../parts/frame";
import { Press } from "../parts/press";
import { plural } from "../parts/words";
import { go, place, to } from "../go";
import { held } from "../state";
import type { Doc } from "../outbox/shapes";
import { pass } from "./doing";
import { away, numberOf, onStand, open, said, SETTLED } from "./standing";

const toPass = (stand: string) => onStand(stand).filter((doc) => open(doc) && !away(doc) && doc.round === 1);

export function StandPage() {
  const stand = place.value.piece;
  const all = onStand(stand);
  const left = toPass(stand);
  const first = all.find((doc) => open(doc) && !away(doc));
  const bar = (
    <>
      {first && <a class="button" href={to("object", first.id)}>{first === all[0] ? "First object" : `Go on at ${first.number}`}</a>}
      {left.length > 1 && <a class="button plain" href={to("shelf", stand)}>The rest of this shelf passes</a>}
    </>
  );
  return (
    <Frame stand={stand} title={`Stand ${numberOf(stand)}`} bar={first ? bar : undefined}>
      {!all.length && <p>Nothing of this stand is on this tablet.</p>}
      <ul class="objects">
        {all.map((doc) => (
          <li key={doc.id}>
            <a href={to("object", doc.id)}>
              <span class="number"><span class="aloud">Number </span>{doc.number}</span>
              <span class="first">{doc.text}</span>
              <span class="state">{stateOf(doc)}</span>
            </a>
          </li>
        ))}
      </ul>
    </Frame>
  );
}

export function stateOf(doc: Doc): string {
  if (SETTLED.includes(doc.examination)) return "settled";
  if (held.value.some((one) => one.drafts.some((draft) => draft.sub === doc.id))) return "passes";
  const out = away(doc);
  if (out && open(doc)) return out;
  if (doc.stepped_back) return "you stepped back";
  if (said(doc)) return "seen by you";
  if (doc.may_vote) return "not yours";
  return doc.round === 2 ? "second look" : "to see";
}

/** The rest of the shelf: from the first unseen object to the one chosen here. One tap came here, one confirms. */
export function ShelfPage() {
  const stand = place.value.piece;
  const left = toPass(stand);
  const [upto, setUpto] = useState(left.length - 1);
  const last = Math.min(upto, left.length - 1);
  const these = left.slice(0, last + 1);
  if (!these.length) return <Frame stand={stand} title="The rest of this shelf passes"><p>Nothing is left to pass here.</p></Frame>;
  const run = async () => {
    await pass(these, `${plural(these.length, "object")} of stand ${numberOf(stand)} pass`);
    go("stand", stand);
  };
  const bar = (
    <>
      <Press run={run}>Yes, {these.length === 1 ? "this 1 passes" : `these ${these.length} pass`}</Press>
      <a class="button plain" href={to("stand", stand)}>No</a>
    </>
  );
  return (
    <Frame stand={stand} title="The rest of this shelf passes" bar={bar}>
      <p>
        From No. <strong>{these[0]?.number}</strong> to No. <strong>{these.at(-1)?.number}</strong>: <strong>{plural(these.length, "object")}</strong>.
      </p>
      <div class="row">
        <button type="button" class="plain" disabled={last <= 0} onClick={() => setUpto(last - 1)}>One fewer</button>
        <button type="button" class="plain" disabled={last >= left.length - 1} onClick={() => setUpto(last + 1)}>One more</button>
      </div>
      <ul class="objects still-list">
        {these.map((doc) => (
          <li key={doc.id}>
            <span class="number">{doc.number}</span> <span class="first">{doc.text}</span>
          </li>
        ))}
      </ul>
    </Frame>
  );
}
