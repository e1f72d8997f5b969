// Papers, for the whole fair or one stand.
import { useState } from "preact/hooks";
import { api } from "../api/client";
import { Act, Shown, useAsked } from "../parts/asking";
import { Choose } from "../parts/fields";
import { has, leads, office } from "../session";

const PAPERS: [paper: string, name: string, what: string, may: () => boolean][] = [
  ["sheets", "Stand sheets", "Every object of a stand with room for ticks: the day on paper.", () => true],
  ["slips", "Slips", "What the panel asks of the exhibitor, with clause and appeal time.", () => office() || leads() || has("scribe")],
  ["wording", "Wording sheets", "Words as hung and as asked, changes marked, to be signed.", () => office() || leads() || has("scribe", "steward")],
  ["labels", "Labels", "Cards to hang, for words that are settled.", () => office() || leads() || has("scribe", "steward")],
  ["receipts", "Receipts", "What is in safe-keeping.", () => office() || has("steward", "leader")],
  ["open-cases", "Open cases", "What is not settled and what would settle it.", () => office() || leads()],
  ["report", "Report", "The end-of-fair report.", office],
];

export function PrintPage() {
  const stands = useAsked(() => api.stands(), []);
  const [stand, setStand] = useState("");
  return (
    <>
      <h1>Print</h1>
      <Shown of={stands}>
        {(found) => (
          <Choose name="For" value={stand} set={setStand} of={[{ value: "", words: "the whole fair" }, ...found.map((one) => ({ value: one.id, words: `stand ${one.number}, ${one.exhibitor}` }))]} />
        )}
      </Shown>
      <ul class="cards">
        {PAPERS.filter(([, , , may]) => may()).map(([paper, name, what]) => (
          <li key={paper} class="card">
            <h2 class="small">{name}</h2>
            <p>{what}</p>
            <p class="row">
              <a class="button" href={`/api/v1/papers/${paper}.pdf${stand && paper !== "report" ? `?stand=${encodeURIComponent(stand)}` : ""}`} target="_blank" rel="noreferrer">
                <span class="aloud">{name}: </span>Open the paper
              </a>
              {paper === "labels" && (office() || has("leader", "steward", "scribe")) && (
                <Act plain done="Noted." run={() => api.labels_printed({ stand })}>
                  They are printed
                </Act>
              )}
            </p>
          </li>
        ))}
      </ul>
    </>
  );
}
