// One own object: what the label lacks, words that would do, and on the day what the panel decided and why.
import { useState } from "preact/hooks";
import { api, type ClaimShown, type CounterFault, type CounterObject } from "../api/client";
import { linesOf } from "../desk/appeals";
import { AddPicture } from "../desk/standing";
import { Question } from "../desk/questions";
import { Act, Sending, Shown, useAsked } from "../parts/asking";
import { Changes } from "../parts/changes";
import { Choose, Field } from "../parts/fields";
import { Sourced } from "../parts/facts";
import { LabelRead } from "../parts/label";
import { Outcome } from "../parts/mark";
import { bare, WHERE } from "../parts/words";

export function OwnObject({ id }: { id: string }) {
  const asked = useAsked(() => api.counter_object({ object_id: id }), [id]);
  return <Shown of={asked}>{(one) => <Own of={one} put={asked.put} again={asked.again} />}</Shown>;
}

interface Part {
  of: CounterObject;
  put: (one: CounterObject) => void;
  again: () => Promise<void>;
}

function Own({ of, put, again }: Part) {
  const troubled = new Set(of.faults.flatMap((one) => one.claims));
  return (
    <>
      <p>
        <a href="#/">All of your objects</a>
      </p>
      <p class="giant">
        <span>Stand {of.stand}</span> <span>No. {of.number}</span>
      </p>
      <h1 class="small">Object {of.number}</h1>
      <Decided of={of} put={put} again={again} />
      <LabelRead text={of.text} claims={of.claims} unread={of.unread} troubled={troubled} bears={(claim) => <Bears on={claim} of={of.faults} />} />
      {of.may_correct ? <Mend key={of.version} of={of} put={put} again={again} /> : <Faults of={of.faults} />}
      {of.questions.length > 0 && <ul class="cards">{of.questions.map((one) => <Question key={one.number} of={one} then={again} mine />)}</ul>}
      <Evidence of={of} put={put} again={again} />
      {of.whereabouts && <p class="quiet">It is {WHERE[of.whereabouts] ?? of.whereabouts}.</p>}
    </>
  );
}

function Bears({ on, of }: { on: ClaimShown; of: CounterFault[] }) {
  const found = of.filter((one) => one.claims.includes(on.id));
  if (!found.length) return <p class="quiet">Nothing on file bears against it.</p>;
  return <Faults of={found} />;
}

function Faults({ of }: { of: CounterFault[] }) {
  if (!of.length) return <p class="well">Nothing to mend in these words.</p>;
  return (
    <ul class="ruled faults">
      {of.map((one, n) => (
        <li key={n}>
          <p>
            <span class={`urgency urgency-${one.severity}`}>{one.urgency}</span>: {bare(one.sentence)}
          </p>
          {one.remedy && <p>{one.remedy}</p>}
          {one.clause && (
            <p class="quiet">
              Rule {one.clause}: {one.clause_text}
            </p>
          )}
          {one.sources.map((source) => (
            <p key={source} class="quiet">
              {source}
            </p>
          ))}
        </li>
      ))}
    </ul>
  );
}

function Mend({ of, put }: Part) {
  const [text, setText] = useState(of.text);
  const [tried, setTried] = useState<CounterFault[]>();
  const write = async (words: string) => put(await api.correct_label({ object_id: of.id }, { text: words, version: of.version }));
  const attempt = async () => setTried((await api.counter_try({ text, price: of.price })).faults);
  return (
    <section aria-labelledby="mend">
      <h2 id="mend">What to mend</h2>
      <Faults of={of.faults} />
      {of.suggestion && (
        <div class="suggestion">
          <h3>Words that would do</h3>
          <Changes of={of.suggestion_changes} />
          <Act run={() => write(of.suggestion)}>Take these words</Act>
        </div>
      )}
      <h3>Or in your own words</h3>
      <Sending run={() => write(text)} submit="Put these words on the label" legend="Your own words">
        <Field name="The label" value={text} set={setText} long lines={4} needed />
        <Act plain run={attempt}>
          Try them first
        </Act>
        {tried && (
          <div role="status">
            <p>{tried.length ? "With these words:" : "These words read well."}</p>
            {tried.length > 0 && <Faults of={tried} />}
          </div>
        )}
      </Sending>
    </section>
  );
}

function Decided({ of, put, again }: Part) {
  if (!of.outcome && !of.asked) return <p class="lead">It is {of.says}.</p>;
  return (
    <section aria-label="What the panel decided" class="decided">
      {of.outcome && (
        <p class="large">
          <Outcome of={of.outcome} /> <span>It {of.says}.</span>
        </p>
      )}
      {of.reasons.length > 0 && <ul>{of.reasons.map((one) => <li key={one}><Sourced of={one} as="span" /></li>)}</ul>}
      {of.clauses.map((one) => (
        <p key={one} class="quiet">
          Rule {one}
        </p>
      ))}
      {of.to_do && <p><strong>{of.to_do}</strong></p>}
      {of.asked && (
        <>
          <h2>Words asked for</h2>
          <Changes of={of.asked_changes} />
          {of.asked_why.map((one) => <Sourced key={one} of={one} />)}
          {of.may_agree && <Act run={async () => put(await api.counter_agree({ object_id: of.id }, { version: of.version }))}>I agree to these words</Act>}
        </>
      )}
      {["agreed", "printed", "checked", "sealed"].includes(of.stage) && (
        <Act plain run={() => api.ask_reprint({ object_id: of.id })} done="The office has it.">
          Ask for the label again
        </Act>
      )}
      {of.appeal && <p>{of.appeal}</p>}
      {of.may_appeal && <Appeal of={of} put={put} again={again} />}
    </section>
  );
}

function Appeal({ of, put }: Part) {
  const [words, setWords] = useState("");
  const [lines, setLines] = useState("");
  return (
    <details>
      <summary>Appeal with new evidence</summary>
      <Sending run={async () => put(await api.lodge_appeal({ object_id: of.id }, { words, evidence: linesOf(lines) }))} submit="Lodge the appeal" legend="Appeal">
        <Field name="What was overlooked, and what you ask" value={words} set={setWords} long needed />
        <Field name="What is new" hint="One piece of evidence a line. Add pictures of papers below." value={lines} set={setLines} long needed />
      </Sending>
    </details>
  );
}

const SORTS = ["bill", "licence", "report", "provenance", "other"] as const;

function FilePaper({ of, then }: { of: CounterObject; then: () => Promise<void> }) {
  const [sort, setSort] = useState<string>("bill");
  const [words, setWords] = useState("");
  const run = async () => {
    await api.counter_file_paper({ object_id: of.id }, { sort: sort as (typeof SORTS)[number], words });
    setWords("");
    await then();
  };
  return (
    <details>
      <summary>Name a paper you hold</summary>
      <Sending run={run} submit="File it" done="At the desk." legend="Name a paper">
        <Choose name="What kind" value={sort} set={setSort} of={SORTS.map((one) => ({ value: one, words: one }))} />
        <Field name="What it says" value={words} set={setWords} long needed />
      </Sending>
    </details>
  );
}

function Evidence({ of, again }: Part) {
  return (
    <section aria-labelledby="evidence">
      <h2 id="evidence">Pictures and papers</h2>
      <ul class="pictures">
        {of.pictures.map((one) => (
          <li key={one.digest}>
            <img src={one.url} alt={`Object ${of.number}${one.view ? `, ${one.view}` : ""}`} loading="lazy" />
          </li>
        ))}
      </ul>
      {of.papers.map((one, n) => (
        <p key={n}>
          {one.sort}: {one.words}
        </p>
      ))}
      <FilePaper of={of} then={again} />
      <AddPicture send={(file) => api.counter_picture({ object_id: of.id }, file)} then={again} />
    </section>
  );
}
