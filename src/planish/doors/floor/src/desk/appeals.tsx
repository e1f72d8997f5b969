// Appeals: lodged in time with something new, heard by people who did not sit the first time, decided with reasons.
import { useState } from "preact/hooks";
import { api, type AppealShown } from "../api/client";
import { Sending, Shown, useAsked } from "../parts/asking";
import { Changes } from "../parts/changes";
import { Sourced } from "../parts/facts";
import { Choose, Field, SomeOf } from "../parts/fields";
import { Outcome } from "../parts/mark";
import { when } from "../parts/words";
import { place, to } from "../route";
import { office } from "../session";

export function AppealsPage() {
  const found = useAsked(() => api.appeals(), []);
  return (
    <>
      <h1>Appeals</h1>
      <p class="lead">An appeal brings new evidence. Those who decide see label, pictures, readings and reasons, never a ballot.</p>
      <Shown of={found}>
        {(all) =>
          all.length ? (
            <ul class="cards">
              {all.map((one) => (
                <li key={one.object} class="card">
                  <h2 class="small">
                    <a href={to("appeal", one.object)}>
                      Stand {one.stand}, No. {one.number}
                    </a>{" "}
                    <span class="state">{one.decided ? "decided" : "open"}</span>
                  </h2>
                  <p class="label-card">{one.words}</p>
                  <p>{one.grounds}</p>
                  {one.decided && <Outcome of={one.decided} />}
                </li>
              ))}
            </ul>
          ) : (
            <p>Nothing is under appeal.</p>
          )
        }
      </Shown>
    </>
  );
}

interface Part {
  of: AppealShown;
  put: (one: AppealShown) => void;
}

interface Named extends Part {
  named: (who: string) => string;
}

export function AppealPage() {
  const id = place.value.piece;
  const found = useAsked(() => api.appeal({ object_id: id }), [id]);
  return <Shown of={found}>{(one) => <Appeal of={one} put={found.put} named={(who) => one.names[who] ?? who} />}</Shown>;
}

function Appeal({ of, put, named }: Named) {
  return (
    <>
      <p class="giant">
        <a href={to("object", of.object)}>Stand {of.stand}</a> <span>No. {of.number}</span>
      </p>
      <h1 class="small">Appeal</h1>
      <p class="label-card">{of.words}</p>
      <p class="large">
        {of.outcome && <Outcome of={of.outcome} />} {of.decided && <span>as the appeals panel decided</span>}
      </p>
      {of.until && (
        <p>
          An appeal may be lodged until {when(of.until)}
          {of.clause ? ` (clause ${of.clause})` : " (house default)"}.
        </p>
      )}
      {!of.lodged && of.why_not.map((one) => <p key={one}>{one}</p>)}
      {of.lodged && <Lodged of={of} />}
      {of.may.includes("lodge") && <Lodge of={of} put={put} />}
      <Bundle of={of} named={named} />
      {of.round > 0 && <Round of={of} put={put} />}
      {of.may.includes("vote") && <View of={of} put={put} />}
      {of.may.includes("decide") && <Decide of={of} put={put} named={named} />}
    </>
  );
}

function Lodged({ of }: { of: AppealShown }) {
  return (
    <section aria-labelledby="lodged">
      <h2 id="lodged">What is asked</h2>
      <p>{of.lodged}</p>
      {of.late && <p>Heard after its time, because: {of.late}</p>}
      <ul>
        {of.evidence.map((one) => (
          <li key={one.words}>
            {one.words} <span class="quiet">({one.new ? "new" : "the first panel had it"})</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Lines({ title, of }: { title: string; of: string[] }) {
  if (!of.length) return null;
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      <ul>
        {of.map((one) => (
          <li key={one}>
            <Sourced of={one} as="span" />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Bundle({ of, named }: { of: AppealShown; named: Named["named"] }) {
  if (!of.lodged || !of.may_hear.length && !of.reasons.length) return null;
  return (
    <section aria-labelledby="bundle">
      <h2 id="bundle">What the appeals panel reads</h2>
      {of.asked_changes.length > 0 && <Changes of={of.asked_changes} />}
      <Lines title="Reasons of the first outcome" of={of.reasons} />
      {of.clauses.length > 0 && <p class="quiet">Clauses {of.clauses.join(", ")}.</p>}
      <Lines title="What was seen" of={of.seen} />
      <Lines title="What that tells" of={of.readings} />
      <Lines title="What cannot both be true" of={of.clashes} />
      <Lines title="Like cases" of={of.like_cases} />
      <Lines title="Like cases with unlike outcomes" of={of.unlike} />
      {of.reasons.length > 0 && (
        <p>
          <a class="button plain" href={`/api/v1/objects/${encodeURIComponent(of.object)}/appeal.pdf`} target="_blank" rel="noreferrer">
            Print it for the panel
          </a>
        </p>
      )}
      <p>
        {of.may_hear.length ? `It may be heard by: ${of.may_hear.map(named).join(", ")}; ${of.needed} are needed.` : "Nobody here may hear it."} {of.short}
      </p>
    </section>
  );
}

function Lodge({ of, put }: Part) {
  const [words, setWords] = useState("");
  const [lines, setLines] = useState("");
  const [late, setLate] = useState("");
  const run = async () => put(await api.take_appeal({ object_id: of.object }, { words, evidence: linesOf(lines), late }));
  if (!office()) return null;
  return (
    <Sending run={run} submit="Take the appeal in" legend="Take an appeal in">
      <h2>Take an appeal in</h2>
      <Field name="What was overlooked, and what is asked" value={words} set={setWords} long needed />
      <Field name="New evidence" hint="One piece a line: what it is, and what it says." value={lines} set={setLines} long />
      <Field name="Why it is heard although its time is over" hint="Only after its time." value={late} set={setLate} long />
    </Sending>
  );
}

export const linesOf = (text: string) => text.split("\n").map((line) => line.trim()).filter(Boolean);

function Round({ of, put }: Part) {
  const run = async () => put(await api.count_appeal({ object_id: of.object }));
  return (
    <section aria-labelledby="round">
      <h2 id="round">Views, sealed first</h2>
      <p>
        Round {of.round}: {of.sealed} of {of.needed} views that are needed are sealed. {of.own_sealed && "Yours is among them."}
      </p>
      <Lines title="Why to talk" of={of.talk} />
      {of.may.includes("count") && (
        <Sending run={run} submit="Close the round and count it" legend="Count the views">
          <p class="quiet">No view of this round counts after that. The outcome replaces the first one, or the panel talks and votes once more.</p>
        </Sending>
      )}
    </section>
  );
}

function View({ of, put }: Part) {
  const [outcome, setOutcome] = useState("accept");
  const [falls, setFalls] = useState<string[]>([]);
  const [reasons, setReasons] = useState("");
  const run = async () =>
    put(await api.seal_appeal_view({ object_id: of.object }, { outcome: outcome as "accept" | "relabel" | "remove" | "refer", falls, reasons: linesOf(reasons) }));
  return (
    <Sending run={run} submit="Seal my view" legend="Seal your own view">
      <h2>Seal your own view</h2>
      <p class="quiet">It is counted, never shown, and stays as it is.</p>
      <Choose name="Outcome" value={outcome} set={setOutcome} of={["accept", "relabel", "remove", "refer"].map((one) => ({ value: one, words: one }))} />
      <SomeOf legend="What does not hold" values={falls} set={setFalls} of={of.claims.map((one) => ({ value: one, words: one }))} />
      <Field name="Reasons" hint="About the object, one a line." value={reasons} set={setReasons} long />
    </Sending>
  );
}

function Decide({ of, put, named }: Named) {
  const [outcome, setOutcome] = useState("accept");
  const [reasons, setReasons] = useState("");
  const [members, setMembers] = useState<string[]>([]);
  const run = async () => put(await api.decide_appeal({ object_id: of.object }, { outcome: outcome as "accept" | "relabel" | "remove", reasons: linesOf(reasons), members }));
  return (
    <Sending run={run} submit="This is decided" legend="Decide the appeal">
      <h2>Decide</h2>
      <SomeOf legend="Who heard it" values={members} set={setMembers} of={of.may_hear.map((one) => ({ value: one, words: named(one) }))} />
      <Choose name="Outcome" value={outcome} set={setOutcome} of={["accept", "relabel", "remove"].map((one) => ({ value: one, words: one }))} />
      <Field name="Reasons" hint="About the object, one a line." value={reasons} set={setReasons} long needed />
    </Sending>
  );
}
