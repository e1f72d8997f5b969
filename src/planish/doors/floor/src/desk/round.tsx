// My round: what waits for my view, stand by stand. One press passes an object; the rest of a shelf passes with a count.
import { useEffect, useState } from "preact/hooks";
import { api, type ObjectLine } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { Choose } from "../parts/fields";
import { ProblemNote } from "../parts/notes";
import { onSent, pass, refused, undo, waiting as passing, type Pass } from "../parts/passing";
import { go, place, to } from "../route";

export function RoundPage() {
  const stands = useAsked(() => api.stands(), []);
  const stand = place.value.asked.stand ?? "";
  const waiting = useAsked(() => api.objects({ mine: true, stand, size: 200 }), [stand]);
  useEffect(() => onSent(() => void waiting.again()), [waiting.again]);
  const leaving = new Set(passing.value.flatMap((one) => one.ids));
  return (
    <>
      <h1>My round{stand && <> · stand <span class="stand">{stand}</span></>}</h1>
      <Shown of={stands}>
        {(found) => (
          <Choose
            name="Stand"
            value={stand}
            set={(next) => go("round", "", { stand: next })}
            of={[{ value: "", words: "all stands" }, ...found.map((one) => ({ value: one.id, words: `${one.number} ${one.exhibitor}` }))]}
          />
        )}
      </Shown>
      <Shown of={waiting}>
        {(page) => {
          const open = page.items.filter((one) => !["confirmed", "final", "withdrawn"].includes(one.examination) && !leaving.has(one.id));
          return (
            <>
              <p class="lead">{open.length ? `${open.length} wait for your view.` : "Nothing waits for your view here."}</p>
              <ul class="cards">
                {open.map((one) => (
                  <Waiting key={one.id} of={one} />
                ))}
              </ul>
              {stand && open.length > 1 && <RestPasses of={open} />}
              <Passing />
            </>
          );
        }}
      </Shown>
    </>
  );
}

function Waiting({ of }: { of: ObjectLine }) {
  return (
    <li class="card">
      <p class="giant">
        <span>Stand {of.stand}</span> <span>No. {of.number}</span>
      </p>
      <p class="label-card">{of.text}</p>
      <p class="row">
        <button type="button" aria-label={`Pass number ${of.number}`} onClick={() => pass([of.id], `Number ${of.number}`)}>
          Pass
        </button>
        <a class="button plain" href={to("ballot", of.id)} aria-label={`Another view of number ${of.number}`}>
          Another view
        </a>
        <a href={to("object", of.id)} aria-label={`What bears on number ${of.number}`}>
          What bears on it
        </a>
      </p>
    </li>
  );
}

/** What was passed and can still be taken back; the seconds are for the eye only, a voice would never stop. */
function Passing() {
  const [, tick] = useState(0);
  const any = passing.value.length > 0;
  useEffect(() => {
    if (!any) return;
    const ticking = setInterval(() => tick((n) => n + 1), 1_000);
    return () => clearInterval(ticking);
  }, [any]);
  return (
    <div class="passing">
      {refused.value && <ProblemNote of={refused.value} />}
      {passing.value.map((one) => (
        <p key={one.key} class="row" role="status">
          <span>
            <strong>{one.words}</strong> passed.
          </span>
          <button type="button" class="plain" aria-label={`Undo: ${one.words} passed`} onClick={() => undo(one)}>
            Undo
          </button>
          <span class="quiet" aria-hidden="true">
            {secondsLeft(one)} s, then it is locked at the desk
          </span>
        </p>
      ))}
    </div>
  );
}

const secondsLeft = (one: Pass) => Math.max(1, Math.ceil((one.until - Date.now()) / 1_000));

function RestPasses({ of }: { of: ObjectLine[] }) {
  const [asked, ask] = useState(false);
  if (!asked) {
    return (
      <button type="button" class="plain" onClick={() => ask(true)}>
        The rest of this stand passes
      </button>
    );
  }
  const all = () => {
    pass(of.map((one) => one.id), `${of.length} of stand ${of[0]?.stand}`);
    ask(false);
  };
  return (
    <p class="row">
      <button type="button" onClick={all}>
        Yes, these {of.length} pass
      </button>
      <button type="button" class="plain" onClick={() => ask(false)}>
        No
      </button>
    </p>
  );
}
