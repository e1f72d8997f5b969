// What waits for a second person: agreed from here, or taken back by who asked.
import { api, type WaitingSecond } from "../api/client";
import { Act, Shown, useAsked } from "../parts/asking";
import { to } from "../route";
import { countSeconds } from "./navigation";

export function SecondsPage() {
  const found = useAsked(() => api.seconds(), []);
  const then = async () => {
    await found.again();
    await countSeconds();
  };
  return (
    <>
      <h1>Second signatures</h1>
      <p class="lead">Some things are done by two. Look at the object first; your name stands beside the other in the log.</p>
      <Shown of={found}>
        {(all) => (
          <>
            <h2>They wait for you</h2>
            <List of={all.for_you} none="Nothing waits for you.">
              {(one) => (
                <Act run={async () => { await api.agree_second({ asked_id: one.id }); await then(); }} label={`I agree: ${one.says}, stand ${one.stand} number ${one.number}`}>
                  I agree: {one.says}
                </Act>
              )}
            </List>
            <h2>You asked</h2>
            <List of={all.from_you} none="You asked for none.">
              {(one) => (
                <Act plain run={async () => { await api.take_back_second({ asked_id: one.id }); await then(); }} label={`Take back: ${one.says}, stand ${one.stand} number ${one.number}`}>
                  Take back
                </Act>
              )}
            </List>
          </>
        )}
      </Shown>
    </>
  );
}

function List({ of, none, children }: { of: WaitingSecond[]; none: string; children: (one: WaitingSecond) => preact.ComponentChildren }) {
  if (!of.length) return <p>{none}</p>;
  return (
    <ul class="cards">
      {of.map((one) => (
        <li class="card" key={one.id}>
          <h3 class="small">
            <a href={to("object", one.object)}>
              Stand {one.stand}, No. {one.number}
            </a>{" "}
            <span class="state">{one.says}</span>
          </h3>
          <p class="label-card">{one.text}</p>
          {one.reason && <p>{one.reason}</p>}
          <p class="quiet">
            Asked by {one.by}, {one.minutes === 0 ? "just now" : one.minutes === 1 ? "a minute ago" : `${one.minutes} minutes ago`}.
          </p>
          {children(one)}
        </li>
      ))}
    </ul>
  );
}
