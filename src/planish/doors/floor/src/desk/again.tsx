// Second looks: a list that does not say why, so that whoever looks again looks with fresh eyes.
import { useState } from "preact/hooks";
import { api, type LookAgainShown, type SecondLooksShown } from "../api/client";
import { Sending, Shown, useAsked } from "../parts/asking";
import { Choose, Field } from "../parts/fields";
import { go, place, to } from "../route";
import { chairs, has } from "../session";

export function AgainPage() {
  const capacity = place.value.asked.room ?? "20";
  const found = useAsked(() => api.second_looks({ capacity: Number(capacity) || 0 }), [capacity]);
  return (
    <>
      <h1>Second looks</h1>
      <p class="lead">Objects to look at again, in the order of the stands. Some come by lot, some because a mistake there would cost most; the list does not say which.</p>
      <Shown of={found}>
        {(plan) => (
          <>
            <List of={plan.looks} then={found.again} />
            {plan.would_pay !== null && <Plan of={plan} capacity={capacity} />}
            {(chairs() || has("office")) && <Draw then={found.again} />}
          </>
        )}
      </Shown>
    </>
  );
}

function List({ of, then }: { of: LookAgainShown[]; then: () => Promise<void> }) {
  if (!of.length) return <p>Nothing is to be looked at again now.</p>;
  return (
    <ul class="cards">
      {of.map((one) => (
        <li key={one.object} class="card">
          <p class="giant">
            <a href={to("object", one.object)}>{named(one.number)}</a>
          </p>
          <p class="label-card">{one.words}</p>
          {one.chance && <p class="quiet">Wrong as it stands: {one.chance}.</p>}
          {one.done ? <p class="well">Looked at again.</p> : one.may_look ? <Looked of={one} then={then} /> : <p class="quiet">For somebody who has not seen it.</p>}
        </li>
      ))}
    </ul>
  );
}

/** "3/R334" as every other page says it. */
const named = (number: string) => `Stand ${number.split("/")[0]}, No. ${number.split("/").slice(1).join("/")}`;

function Looked({ of, then }: { of: LookAgainShown; then: () => Promise<void> }) {
  const [found, setFound] = useState("nothing");
  const [words, setWords] = useState("");
  const run = async () => {
    await api.looked_again({ object_id: of.object }, { found: found as "fault" | "nothing", words });
    await then();
  };
  return (
    <details>
      <summary>I looked at {named(of.number)} again</summary>
      <Sending run={run} submit="Note it" legend={`Second look at ${named(of.number)}`}>
        <Choose name="What I found" value={found} set={setFound} of={[{ value: "nothing", words: "nothing against its words" }, { value: "fault", words: "a fault" }]} />
        <Field name="What I saw" hint="About the object. Needed for a fault." value={words} set={setWords} long needed={found === "fault"} />
      </Sending>
    </details>
  );
}

function Plan({ of, capacity }: { of: SecondLooksShown; capacity: string }) {
  const [room, setRoom] = useState(capacity);
  return (
    <section aria-labelledby="plan">
      <h2 id="plan">The plan</h2>
      <p>
        {of.would_pay} second looks would pay; the day has room for {of.capacity}.
        {of.referred ? ` ${of.referred} referred objects get theirs by the rule book and are not counted here.` : ""}
      </p>
      <Sending run={async () => go("again", "", { room })} submit="Plan again" legend="Room for second looks">
        <Field name="Second looks left today" kind="number" value={room} set={setRoom} />
      </Sending>
      <h3>Pace</h3>
      {of.pace.length ? (
        <ul>
          {of.pace.map((one, n) => (
            <li key={n}>
              {one.hour && `Panel ${one.panel}, ${one.hour}: `}
              {one.sentence}
            </li>
          ))}
        </ul>
      ) : (
        <p>No hour was faster, or found less, than the fair's own rate leads one to expect.</p>
      )}
      <h3>What may have been missed</h3>
      {of.missed.map((one) => (
        <p key={one}>{one}</p>
      ))}
      <details>
        <summary>What this rests on</summary>
        {of.assumptions.map((one) => (
          <p key={one}>{one}</p>
        ))}
      </details>
    </section>
  );
}

function Draw({ then }: { then: () => Promise<void> }) {
  const [size, setSize] = useState("20");
  const [among, setAmong] = useState("passed");
  const [said, setSaid] = useState("");
  const run = async () => {
    setSaid((await api.draw_second_looks({ size: Number(size), among: among as "passed" | "seen" })).words);
    await then();
  };
  return (
    <details>
      <summary>Draw more by lot</summary>
      <Sending run={run} submit="Draw" legend="Draw by lot">
        <p>A blind sample tells how much may have been missed. Number and seed go into the log, so that anybody can draw it again.</p>
        <Field name="How many" kind="number" value={size} set={setSize} needed />
        <Choose name="Among" value={among} set={setAmong} of={[{ value: "passed", words: "what was accepted as it hung" }, { value: "seen", words: "everything that has an outcome" }]} />
      </Sending>
      <p role="status">{said}</p>
    </details>
  );
}
