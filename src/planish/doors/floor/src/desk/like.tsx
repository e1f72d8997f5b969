// Like case, like treatment: what was done where the same fault was found, and where it was treated otherwise.
import { useState } from "preact/hooks";
import { api, type LikeCasesShown } from "../api/client";
import { Act, Shown, useAsked } from "../parts/asking";
import { Sourced } from "../parts/facts";
import { Outcome } from "../parts/mark";
import { to } from "../route";
import { leads, office } from "../session";

export function UnlikePage() {
  const found = useAsked(() => api.unlike_cases(), []);
  return (
    <>
      <h1>Like cases</h1>
      <p class="lead">Where the same fault had unlike outcomes. Go and look at both; then change one, or write down that you saw it.</p>
      <Shown of={found}>
        {(all) =>
          all.length ? (
            <ul class="cards">
              {all.map((pair) => (
                <li key={`${pair.one} ${pair.other}`} class="card">
                  <p>
                    <a href={to("object", pair.one)}>{pair.one}</a> <Outcome of={pair.outcomes[0]} /> · <a href={to("object", pair.other)}>{pair.other}</a> <Outcome of={pair.outcomes[1]} />
                  </p>
                  <Sourced of={pair.sentence} />
                  {pair.noted ? (
                    <p class="quiet">Written down.</p>
                  ) : (
                    (leads() || office()) && (
                      <Act plain label={`I saw both: ${pair.one} and ${pair.other}`} run={async () => { await api.note_unlike({ one: pair.one, other: pair.other }); await found.again(); }}>
                        I saw both; write it down
                      </Act>
                    )
                  )}
                </li>
              ))}
            </ul>
          ) : (
            <p>No like cases with unlike outcomes.</p>
          )
        }
      </Shown>
    </>
  );
}

/** On an object's page: asked for only when somebody opens it. */
export function Elsewhere({ id }: { id: string }) {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen((event.currentTarget as HTMLDetailsElement).open)}>
      <summary>What was done elsewhere about the same fault</summary>
      {open && <Cases id={id} />}
    </details>
  );
}

function Cases({ id }: { id: string }) {
  const found = useAsked(() => api.like_cases({ object_id: id }), [id]);
  return <Shown of={found}>{(all) => <Found of={all} />}</Shown>;
}

function Found({ of }: { of: LikeCasesShown }) {
  if (!of.faults.length) return <p>No fault is on record, so there is nothing to compare.</p>;
  return (
    <>
      {of.faults.map((one) => (
        <Sourced key={one} of={one} />
      ))}
      {of.unlike.map((one) => (
        <p key={one} class="note">
          {one}
        </p>
      ))}
      {of.cases.length === 0 && <p>No like case has an outcome yet.</p>}
      <ul class="ruled">
        {of.cases.map((one) => (
          <li key={one.object}>
            <p>
              <a href={to("object", one.object)}>{one.number}</a> <Outcome of={one.outcome} /> {one.words}
            </p>
            {one.reasons.slice(0, 2).map((reason) => (
              <Sourced key={reason} of={reason} />
            ))}
            {one.different.length > 0 && <p class="quiet">It differs in {one.different.join(", ").replace(/_/g, " ")}.</p>}
          </li>
        ))}
      </ul>
    </>
  );
}
