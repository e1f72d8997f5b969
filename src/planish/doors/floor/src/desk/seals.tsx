// Seals: a steward reads what hangs, on the object, and says so; only then the words are signed.
import { useState } from "preact/hooks";
import { api, type SealingShown, type SealShown, type ToSeal } from "../api/client";
import { Sending, Shown, useAsked } from "../parts/asking";
import { Choose } from "../parts/fields";
import { Table } from "../parts/table";
import { go, place, to } from "../route";
import { has, office } from "../session";
import { TheKeys } from "./keys";

export function SealsPage() {
  const stand = place.value.asked.stand ?? "";
  const stands = useAsked(() => api.stands(), []);
  const found = useAsked(() => api.seals({ stand }), [stand]);
  return (
    <>
      <h1>Seals{stand && <> · stand <span class="stand">{stand}</span></>}</h1>
      <p class="lead">Go to the object. Read the label that hangs, word for word. Tick it here only when it is exactly these words.</p>
      <Shown of={stands}>
        {(all) => (
          <Choose
            name="Stand"
            value={stand}
            set={(next) => go("seals", "", { stand: next })}
            of={[{ value: "", words: "all stands" }, ...all.map((one) => ({ value: one.id, words: `${one.number} ${one.exhibitor}` }))]}
          />
        )}
      </Shown>
      <Shown of={found}>{(all) => <Sealing key={stand} of={all} stand={stand} then={found.again} />}</Shown>
    </>
  );
}

function Sealing({ of, stand, then }: { of: SealingShown; stand: string; then: () => Promise<void> }) {
  const may = office() || has("steward");
  return (
    <>
      {may && <TheKeys of={of.keys} then={then} />}
      <Ready of={of.ready} may={may && of.keys.unlocked} then={then} />
      <Sealed of={of.sealed} stand={stand} />
    </>
  );
}

function Ready({ of, may, then }: { of: ToSeal[]; may: boolean; then: () => Promise<void> }) {
  const [read, setRead] = useState<string[]>([]);
  const [said, setSaid] = useState("");
  const turn = (id: string, on: boolean) => setRead(on ? [...read, id] : read.filter((one) => one !== id));
  const run = async () => {
    const labels = of.filter((one) => read.includes(one.object)).map((one) => ({ object: one.object, hangs: one.words }));
    if (!labels.length) throw new Error("Tick what you have read on its object.");
    const made = await api.seal_labels({ labels });
    setSaid(`${made.length} sealed. Print the cards with their codes.`);
    setRead([]);
    await then();
  };
  return (
    <section aria-labelledby="ready">
      <h2 id="ready">To be read and sealed</h2>
      <p role="status">{said}</p>
      {of.length === 0 && <p>No settled words wait for a seal here.</p>}
      {of.length > 0 && (
        <Sending run={run} submit={read.length === 0 ? "Seal what is ticked" : read.length === 1 ? "Seal 1 label" : `Seal ${read.length} labels`} legend="Seal what was read">
          <ul class="cards">
            {of.map((one) => (
              <li key={one.object} class="card">
                <p class="giant">
                  <span>Stand {one.stand}</span> <span>No. {one.number}</span>
                </p>
                <p class="label-card">{one.words}</p>
                {may && (
                  <label class="choice">
                    <input type="checkbox" checked={read.includes(one.object)} onChange={(event) => turn(one.object, event.currentTarget.checked)} />
                    <span>
                      I have read exactly these words on the object<span class="aloud">, stand {one.stand} number {one.number}</span>
                    </span>
                  </label>
                )}
                <p>
                  <a href={to("words", one.object)}>
                    Something else hangs<span class="aloud"> at stand {one.stand} number {one.number}</span>
                  </a>
                </p>
              </li>
            ))}
          </ul>
        </Sending>
      )}
    </section>
  );
}

function Sealed({ of, stand }: { of: SealShown[]; stand: string }) {
  if (!of.length) return null;
  return (
    <section aria-labelledby="sealed">
      <h2 id="sealed">Sealed</h2>
      <p>
        <a class="button" href={`/api/v1/papers/labels.pdf${stand ? `?stand=${encodeURIComponent(stand)}` : ""}`} target="_blank" rel="noreferrer">
          Print the cards with their codes
        </a>
      </p>
      <p>
        Anybody can compare a card with its words at <a href="/check/" target="_blank" rel="noreferrer">the check page</a>, without an account.
      </p>
      <Table
        caption={`${of.length} sealed`}
        heads={["Stand", "No.", "Check code", "Words"]}
        rows={of.map((one) => [<span class="stand">{one.stand}</span>, one.number, <span class="code">{one.check}</span>, <a href={to("object", one.object)}>{one.words}</a>])}
      />
    </section>
  );
}
