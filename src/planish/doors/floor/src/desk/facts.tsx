// The fact book: dated statements, each with its source, and whether that source was read or is given from memory.
import { useState } from "preact/hooks";
import { api, type FactShown } from "../api/client";
import { Sending, Shown, useAsked } from "../parts/asking";
import { FactLines } from "../parts/facts";
import { Field } from "../parts/fields";
import { plain } from "../parts/words";
import { go, place } from "../route";

export function FactsPage() {
  const { words = "", year = "" } = place.value.asked;
  const found = useAsked(() => api.facts({ words, year: year ? Number(year) : undefined, size: 60 }), [words, year]);
  const [given, set] = useState({ words, year });
  return (
    <>
      <h1>Facts</h1>
      <p class="lead">What labels are held against. Each says from where it is known.</p>
      <Sending run={async () => go("facts", "", given)} submit="Look up" legend="Look up facts">
        <div class="two">
          <Field name="Words" hint="Such as hinge, Britannia metal, registered." kind="search" value={given.words} set={(next) => set({ ...given, words: next })} />
          <Field name="Holds in the year" kind="number" value={given.year} set={(next) => set({ ...given, year: next })} />
        </div>
      </Sending>
      <Shown of={found}>{(all) => (all.length ? <FactLines of={all} /> : <p>Not on file.</p>)}</Shown>
    </>
  );
}

export function FactPage() {
  const found = useAsked(() => api.fact({ fact_id: place.value.piece }), [place.value.piece]);
  return <Shown of={found}>{(one) => <Fact of={one} />}</Shown>;
}

function Fact({ of }: { of: FactShown }) {
  const lines: [string, string][] = [
    ["Years", of.years],
    ["Bounds", plain(of.bounds)],
    ["Used for", plain(of.use)],
    ["How firm", plain(of.hardness)],
    ["Where it holds", plain(of.jurisdiction)],
    ["Source", of.source],
    ["How it is vouched for", of.witness],
  ];
  return (
    <>
      <h1 class="small">{of.statement}</h1>
      <dl class="axes">
        {lines
          .filter(([, says]) => says)
          .map(([name, says]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{says}</dd>
            </div>
          ))}
      </dl>
      {of.caveats.length > 0 && (
        <>
          <h2>Mind</h2>
          <ul>{of.caveats.map((one) => <li key={one}>{one}</li>)}</ul>
        </>
      )}
      <p class="quiet">On file as {of.id}.</p>
    </>
  );
}
