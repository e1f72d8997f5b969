// One object: the words first, then what bears on them, then where it stands and what may be done.
import { api, type ClaimShown, type ObjectShown } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { FactLines } from "../parts/facts";
import { LabelRead } from "../parts/label";
import { Ribbon } from "../parts/ribbon";
import { bare, URGENCY } from "../parts/words";
import { place, to } from "../route";
import { Doings } from "./doings";
import { Elsewhere } from "./like";
import { HoldsOn } from "./holds";
import { Axes, Beside, History, Labels, Pictures } from "./standing";
import { Answer } from "./outcome";
import { Looks } from "./looks";

export interface Part {
  of: ObjectShown;
  put: (one: ObjectShown) => void;
  again: () => Promise<void>;
}

export function ObjectPage() {
  const id = place.value.piece;
  const asked = useAsked(() => api.object_detail({ object_id: id }), [id]);
  return <Shown of={asked}>{(one) => <TheObject of={one} put={asked.put} again={asked.again} />}</Shown>;
}

function TheObject({ of, put, again }: Part) {
  const troubled = new Set([...of.faults, ...of.clashes].flatMap((one) => one.claims));
  return (
    <>
      <p class="giant">
        <a href={to("objects", "", { stand: of.stand })}>Stand {of.stand}</a> <span>No. {of.number}</span>
      </p>
      <h1 class="small">
        {of.exhibitor || `Object ${of.number} of stand ${of.stand}`}
      </h1>
      {of.alarms.map((one) => (
        <p class="note" role="alert" key={one}>
          {one}
        </p>
      ))}
      <HoldsOn of={of} put={put} again={again} />
      <LabelRead text={of.text} claims={of.claims} unread={of.unread} troubled={troubled} bears={(claim) => <Bears on={claim} of={of} />} />
      {of.price && <p class="quiet">Price: {of.price}</p>}
      <Doings of={of} put={put} again={again} />
      <Faults of={of} />
      <Clashes of={of} />
      {of.date_sentence && (
        <section aria-labelledby="years">
          <h2 id="years">The years</h2>
          <p>{of.date_sentence}</p>
          {of.ribbon_url && <Ribbon key={of.observations.length} url={of.ribbon_url} words={of.ribbon_words} />}
        </section>
      )}
      <Answer of={of} />
      <Elsewhere id={of.id} />
      <Looks of={of} put={put} again={again} />
      <Pictures of={of} put={put} again={again} />
      {of.hidden.length > 0 && <p class="quiet">Not shown to you now: {of.hidden.join("; ")}.</p>}
      <Beside of={of} />
      <Axes of={of} />
      <Labels of={of} />
      <History of={of} />
    </>
  );
}

function Bears({ on, of }: { on: ClaimShown; of: ObjectShown }) {
  const faults = of.faults.filter((one) => one.claims.includes(on.id));
  const clashes = of.clashes.filter((one) => one.claims.includes(on.id));
  if (!faults.length && !clashes.length) return <p class="quiet">Nothing on file bears against it.</p>;
  return (
    <>
      {clashes.map((one) => (
        <div key={one.id}>
          <p>{bare(one.sentence)}</p>
          <FactLines of={one.facts} />
        </div>
      ))}
      {faults.map((one, n) => (
        <div key={n}>
          <p>{bare(one.sentence)}</p>
          <FactLines of={one.facts} />
        </div>
      ))}
    </>
  );
}

function Faults({ of }: { of: ObjectShown }) {
  if (!of.faults.length) return <p>The label itself breaks no clause that can be read from paper.</p>;
  return (
    <section aria-labelledby="mend">
      <h2 id="mend">What the label alone shows</h2>
      <ul class="ruled">
        {of.faults.map((one, n) => (
          <li key={n}>
            <p>
              <span class={`urgency urgency-${one.severity}`}>{URGENCY[one.severity]}</span>: {bare(one.sentence)}
            </p>
            {one.remedy && <p>{one.remedy}</p>}
            {one.clause && (
              <p class="quiet">
                Clause {one.clause}: {one.clause_text}
              </p>
            )}
            <FactLines of={one.facts} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Clashes({ of }: { of: ObjectShown }) {
  if (!of.clashes.length) return null;
  return (
    <section aria-labelledby="clash">
      <h2 id="clash">These cannot both be true</h2>
      <ul class="ruled">
        {of.clashes.map((one) => (
          <li key={one.id}>
            <p>{bare(one.sentence)}</p>
            {one.ways_out.length > 0 && <p>Ways out: {[...new Set(one.ways_out)].join("; ")}.</p>}
            {!one.hard && <p class="quiet">Likely, not beyond doubt.</p>}
            <FactLines of={one.facts} />
          </li>
        ))}
      </ul>
    </section>
  );
}
