// Words: the strongest sentence everybody can carry, asked, signed by both sides, printed, read on the stand.
import { useState } from "preact/hooks";
import { api, type AgreedWordsShown, type ObjectShown, type WordingShown } from "../api/client";
import { Act, Sending, Shown, useAsked } from "../parts/asking";
import { Changes } from "../parts/changes";
import { Sourced } from "../parts/facts";
import { Field } from "../parts/fields";
import { LABEL, plain } from "../parts/words";
import { place, to } from "../route";

export function WordingPage() {
  const stand = place.value.asked.stand ?? "";
  const found = useAsked(() => api.wording({ stand }), [stand]);
  return (
    <>
      <h1>Wording</h1>
      <p class="lead">Every label for which other words are asked, agreed or printed.</p>
      <Shown of={found}>
        {(all) => (all.length ? <ul class="cards">{all.map((one) => <Asked key={one.object} of={one} />)}</ul> : <p>No other words are asked.</p>)}
      </Shown>
    </>
  );
}

function Asked({ of }: { of: WordingShown }) {
  return (
    <li class="card">
      <h2 class="small">
        <a href={to("words", of.object)}>
          Stand {of.stand}, No. {of.number}
        </a>{" "}
        <span class="state">{LABEL[of.stage]}</span>
      </h2>
      <Changes of={of.changes} />
      {of.why.map((one) => (
        <Sourced key={one} of={one} />
      ))}
    </li>
  );
}

export function WordsPage() {
  const id = place.value.piece;
  const asked = useAsked(async () => {
    const object = await api.object_detail({ object_id: id });
    const words = object.outcome ? await api.words_found({ object_id: id }) : null;
    const line = (await api.wording({ stand: object.stand })).find((one) => one.object === id);
    return { object, words, line };
  }, [id]);
  return <Shown of={asked}>{(found) => <Words of={found.object} words={found.words} line={found.line} then={asked.again} />}</Shown>;
}

interface Found {
  of: ObjectShown;
  words: AgreedWordsShown | null;
  line: WordingShown | undefined;
  then: () => Promise<void>;
}

function Words({ of, words, line, then }: Found) {
  const settled = ["agreed", "printed", "checked", "sealed"].includes(of.label_stage);
  return (
    <>
      <p class="giant">
        <a href={to("object", of.id)}>Stand {of.stand}</a> <span>No. {of.number}</span>
      </p>
      <h1 class="small">Words</h1>
      <h2>{settled ? "Agreed" : of.label_stage === "asked" ? "Asked" : "As hung"} <span class="state">{LABEL[of.label_stage]}</span></h2>
      {line ? <Changes of={line.changes} /> : <p class="label-card">{of.text}</p>}
      {of.label_stage === "asked" && <Sign of={of} then={then} />}
      {["agreed", "printed"].includes(of.label_stage) && <Hung of={of} then={then} />}
      {words && of.label_stage === "asked" && of.may.includes("ask_words") && (
        <details>
          <summary>Ask for other words instead</summary>
          <AskFor of={of} found={words} then={then} />
        </details>
      )}
      {words && !settled && of.label_stage !== "asked" && (
        <>
          <h2>What everybody can carry</h2>
          {words.changed ? <Changes of={words.changes} /> : <p>The words can stay as they are.</p>}
          <House of={of} words={words} then={then} />
          <Steps of={words} />
          {of.may.includes("ask_words") && <AskFor of={of} found={words} then={then} />}
        </>
      )}
    </>
  );
}

/** The same claims in the order and the signs that the rule book prefers; nothing more is claimed. */
function House({ of, words, then }: { of: ObjectShown; words: AgreedWordsShown; then: () => Promise<void> }) {
  if (!words.house || words.house === words.text) return null;
  const run = async () => {
    await api.ask_words({ object_id: of.id }, { house: true, base: of.on_label });
    await then();
  };
  return (
    <section aria-labelledby="house-form">
      <h3 id="house-form">In this fair's house form</h3>
      <p class="label-card">{words.house}</p>
      <p class="quiet">The same claims in the order and the signs of the rule book; it says neither more nor less.</p>
      {of.may.includes("ask_words") && (
        <p>
          <Act plain run={run}>
            Ask for the house form
          </Act>
        </p>
      )}
    </section>
  );
}

function Steps({ of }: { of: AgreedWordsShown }) {
  const moved = of.steps.filter((one) => one.did !== "kept");
  return (
    <>
      {of.warnings.map((one) => (
        <p key={one} class="note">
          {one}
        </p>
      ))}
      {moved.length > 0 && (
        <details open>
          <summary>Why</summary>
          <ul class="ruled">
            {moved.map((one, n) => (
              <li key={n}>
                <p>
                  {plain(one.did)}: {one.before && <del>{one.before}</del>} {one.after && <ins>{one.after}</ins>}
                </p>
                {one.why.map((why) => (
                  <Sourced key={why} of={why} />
                ))}
              </li>
            ))}
          </ul>
          <p class="quiet">The other {of.steps.length - moved.length} claims stay as they are.</p>
        </details>
      )}
      {of.climbs.length > 0 && (
        <details>
          <summary>What would let it say more</summary>
          <ul>
            {of.climbs.map((one) => (
              <li key={one.words}>
                “{one.words}”: {one.look} <span class="quiet">(about {one.minutes} minutes, a house estimate; by {one.found_by})</span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function AskFor({ of, found, then }: { of: ObjectShown; found: AgreedWordsShown; then: () => Promise<void> }) {
  const [text, setText] = useState(found.text);
  const [reason, setReason] = useState("");
  const run = async () => {
    const own = text.trim() !== found.text.trim();
    await api.ask_words({ object_id: of.id }, own ? { text, reason, base: of.on_label } : { base: of.on_label });
    await then();
  };
  return (
    <Sending run={run} submit="Ask for these words" done="Asked." legend="Ask for other words">
      <Field name="Words to ask for" value={text} set={setText} long lines={4} needed />
      {text.trim() !== found.text.trim() && <Field name="Why other words than those found" value={reason} set={setReason} needed />}
    </Sending>
  );
}

function Sign({ of, then }: { of: ObjectShown; then: () => Promise<void> }) {
  if (!of.may.includes("agree_words")) return null;
  const sign = async () => {
    await api.agree_words({ object_id: of.id }, { version: of.label_version });
    await then();
  };
  return (
    <p class="row">
      <a class="button plain" href={`/api/v1/papers/wording.pdf?object=${encodeURIComponent(of.id)}`} target="_blank" rel="noreferrer">
        Print the wording sheet
      </a>
      <Act run={sign}>Both sides have signed</Act>
    </p>
  );
}

function Hung({ of, then }: { of: ObjectShown; then: () => Promise<void> }) {
  const [hangs, setHangs] = useState("");
  const run = async () => {
    await api.check_hung({ object_id: of.id }, { hangs });
    await then();
  };
  return (
    <Sending run={run} submit="These words hang" done="Read and noted." legend="Read the hung label">
      <p>
        <a class="button plain" href={`/api/v1/papers/labels.pdf?object=${encodeURIComponent(of.id)}`} target="_blank" rel="noreferrer">
          Print the label
        </a>
      </p>
      <Field name="The words as they hang on the stand" hint="Copied from the label itself, not from here." value={hangs} set={setHangs} long needed />
    </Sending>
  );
}
