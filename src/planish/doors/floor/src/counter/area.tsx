// The counter: an exhibitor's own stand, before and on the day.
import { api, type CounterLine, type CounterShown } from "../api/client";
import { IntakePage } from "../desk/intake";
import { Question } from "../desk/questions";
import { SendList } from "../desk/stands";
import { Shown, useAsked } from "../parts/asking";
import { Mark } from "../parts/mark";
import { URGENCY } from "../parts/words";
import { place, to } from "../route";
import { OwnObject } from "./own";

export function CounterArea() {
  const { page, piece } = place.value;
  if (page === "own") return <OwnObject key={piece} id={piece} />;
  if (page === "list") return <IntakePage />;
  return <OwnStand />;
}

function OwnStand() {
  const asked = useAsked(() => api.counter(), []);
  return <Shown of={asked}>{(found) => <Stand of={found} then={asked.again} />}</Shown>;
}

function Stand({ of, then }: { of: CounterShown; then: () => Promise<void> }) {
  return (
    <>
      <p class="giant">
        <span>Stand {of.stand}</span>
      </p>
      <h1>{of.exhibitor}</h1>
      <p class="lead">
        {of.objects === 0 ? "Your list is not in yet." : of.to_mend ? `${of.to_mend} of ${of.objects} labels want a change.` : `All ${of.objects} labels read well.`}
      </p>
      <p class="row">
        <SendList stand={of.stand} />
        {(["slips", "wording", "labels"] as const).map((paper) => (
          <a key={paper} class="button plain" href={`/api/v1/counter/papers/${paper}.pdf`} target="_blank" rel="noreferrer">
            Print {paper === "wording" ? "wording sheets" : paper}
          </a>
        ))}
      </p>
      {of.questions.length > 0 && (
        <section aria-labelledby="asked">
          <h2 id="asked">You are asked</h2>
          <ul class="cards">{of.questions.map((one) => <Question key={one.number} of={one} then={then} mine />)}</ul>
        </section>
      )}
      <Lines name="To mend" of={of.lines.filter((one) => one.to_mend > 0)} />
      <Lines name="Read well" of={of.lines.filter((one) => !one.to_mend)} />
    </>
  );
}

function Lines({ name, of }: { name: string; of: CounterLine[] }) {
  if (!of.length) return null;
  const id = `lines-${name.replace(/\W/g, "")}`;
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>
        {name} ({of.length})
      </h2>
      <ul class="cards">
        {of.map((one) => (
          <li key={one.id} class="card">
            <p>
              <a href={to("own", one.id)}>
                No. {one.number}: {one.text || "(no words)"}
              </a>
            </p>
            <p>
              {one.outcome && <Mark outcome={one.outcome} />} {one.says}
              {one.to_mend > 0 && (
                <span>
                  {" · "}
                  {one.to_mend} to mend, {URGENCY[one.worst ?? 4]}
                </span>
              )}
            </p>
          </li>
        ))}
      </ul>
    </section>
  );
}
