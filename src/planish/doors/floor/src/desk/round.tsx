// My round: what waits for my view, stand by stand. One press passes an object; the rest of a shelf passes with a count.
import { useState } from "preact/hooks";
import { api, type ObjectLine } from "../api/client";
import { Act, Shown, useAsked } from "../parts/asking";
import { Choose } from "../parts/fields";
import { go, place, to } from "../route";

export function RoundPage() {
  const stands = useAsked(() => api.stands(), []);
  const stand = place.value.asked.stand ?? "";
  const waiting = useAsked(() => api.objects({ mine: true, stand, size: 200 }), [stand]);
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
          const open = page.items.filter((one) => !["confirmed", "final", "withdrawn"].includes(one.examination));
          return (
            <>
              <p class="lead">{open.length ? `${open.length} wait for your view.` : "Nothing waits for your view here."}</p>
              <ul class="cards">
                {open.map((one) => (
                  <Waiting key={one.id} of={one} then={waiting.again} />
                ))}
              </ul>
              {stand && open.length > 1 && <RestPasses of={open} then={waiting.again} />}
            </>
          );
        }}
      </Shown>
    </>
  );
}

const accept = (object: string) => ({ object, outcome: "accept" as const });

function Waiting({ of, then }: { of: ObjectLine; then: () => Promise<void> }) {
  const pass = async () => {
    await api.lock_ballots({ ballots: [accept(of.id)] });
    await then();
  };
  return (
    <li class="card">
      <p class="giant">
        <span>Stand {of.stand}</span> <span>No. {of.number}</span>
      </p>
      <p class="label-card">{of.text}</p>
      <p class="row">
        <Act run={pass} label={`Pass number ${of.number}`}>
          Pass
        </Act>
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

function RestPasses({ of, then }: { of: ObjectLine[]; then: () => Promise<void> }) {
  const [asked, ask] = useState(false);
  if (!asked) {
    return (
      <button type="button" class="plain" onClick={() => ask(true)}>
        The rest of this stand passes
      </button>
    );
  }
  const pass = async () => {
    await api.lock_ballots({ ballots: of.map((one) => accept(one.id)) });
    ask(false);
    await then();
  };
  return (
    <p class="row">
      <Act run={pass}>Yes, these {of.length} pass</Act>
      <button type="button" class="plain" onClick={() => ask(false)}>
        No
      </button>
    </p>
  );
}
