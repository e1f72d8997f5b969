// Where an object stands on five axes, its words through time, its pictures and papers, its history.
import { useState } from "preact/hooks";
import { api, type ObjectShown } from "../api/client";
import { Table } from "../parts/table";
import { EXAMINATION, HOLD, LABEL, plain, TRADE, when, WHERE } from "../parts/words";
import { problemOf } from "../parts/asking";
import { ProblemNote } from "../parts/notes";
import type { Problem } from "../api/call";
import type { Part } from "./object";

export function Axes({ of }: { of: ObjectShown }) {
  return (
    <section aria-labelledby="stands">
      <h2 id="stands">Where it stands</h2>
      <dl class="axes">
        <Axis name="Examination" says={EXAMINATION[of.examination] ?? plain(of.examination)} />
        <Axis name="Label" says={`${LABEL[of.label_stage] ?? ""}, version ${of.label_version}`} />
        {of.whereabouts && <Axis name="Whereabouts" says={`${WHERE[of.whereabouts] ?? plain(of.whereabouts)}${of.place ? `: ${of.place}` : ""}`} />}
        <Axis name="Trade" says={TRADE[of.trade] ?? plain(of.trade)} />
        <Axis name="Holds" says={of.holds.map((one) => HOLD[one.sort] ?? plain(one.sort)).join(", ") || "none"} />
        {of.seal && <Axis name="Seal" says={of.seal} />}
        <Axis name="To the public" says={of.may_be_shown ? "may be shown" : "may not be shown yet"} />
        <Axis name="Seen by" says={of.disciplines.join(", ") || "no discipline found; ask the chair"} />
      </dl>
    </section>
  );
}

function Axis({ name, says }: { name: string; says: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{says}</dd>
    </div>
  );
}

export function Labels({ of }: { of: ObjectShown }) {
  if (of.labels.length < 2) return null;
  return <Table caption="Its words through time" heads={["Version", "Words", "State"]} rows={of.labels.map((one) => [one.version, one.text, LABEL[one.stage]])} />;
}

/** What somebody wrote while another was quicker: nothing anybody wrote is lost. */
export function Beside({ of }: { of: ObjectShown }) {
  if (!of.beside.length) return null;
  return (
    <section aria-labelledby="beside">
      <h2 id="beside">Written beside it</h2>
      <p>Kept, and not applied. Decide whether it changes anything.</p>
      <Table caption="Written beside it" quietCaption heads={["Entry", "When", "What", "Words", "Why it does not count"]} rows={of.beside.map((one) => [one.n, when(one.at), one.what, plain(one.words) || "—", one.why])} />
    </section>
  );
}

export function History({ of }: { of: ObjectShown }) {
  return (
    <details>
      <summary>History ({of.history.length})</summary>
      <Table
        caption="History"
        quietCaption
        heads={["Entry", "When", "What", "Words"]}
        rows={of.history.map((one) => [one.n, when(one.at), one.what, plain(one.words)])}
      />
      {of.moves.length > 0 && (
        <Table
          caption="Moves"
          heads={["When", "From", "To", "Given by", "Taken by", "Condition"]}
          rows={of.moves.map((one) => [when(one.at), WHERE[one.from_] ?? one.from_, `${WHERE[one.to] ?? one.to} ${one.place}`, one.given_by, one.taken_by, one.condition || "—"])}
        />
      )}
      {of.raw && <Table caption="As it came in the list" heads={["Column", "Cell"]} rows={Object.entries(of.raw)} />}
    </details>
  );
}

export function Pictures({ of, again }: Part) {
  const may = of.may.includes("picture");
  if (!may && !of.pictures.length && !of.papers.length) return null;
  return (
    <section aria-labelledby="pictures">
      <h2 id="pictures">Pictures and papers</h2>
      <ul class="pictures">
        {of.pictures.map((one) => (
          <li key={one.digest}>
            <a href={one.url} target="_blank" rel="noreferrer">
              <img src={one.url} alt={`Object ${of.number}${one.view ? `, ${one.view}` : ""}${one.part ? `, ${one.part}` : ""}`} loading="lazy" />
            </a>
            {one.view && <span>{one.view}</span>}
          </li>
        ))}
      </ul>
      {of.papers.map((one, n) => (
        <p key={n}>
          {plain(one.sort)}: {one.words}
        </p>
      ))}
      {may && <AddPicture send={(file) => api.add_picture({ object_id: of.id }, file)} then={again} />}
    </section>
  );
}

export function AddPicture({ send, then }: { send: (file: File) => Promise<unknown>; then: () => Promise<void> }) {
  const [problem, setProblem] = useState<Problem>();
  const [said, setSaid] = useState("");
  const run = async (files: FileList | null) => {
    setProblem(undefined);
    try {
      for (const file of files ?? []) await send(file);
      setSaid("At the desk.");
      await then();
    } catch (failure) {
      setProblem(problemOf(failure));
    }
  };
  return (
    <>
      <label class="file">
        Add pictures
        <input type="file" multiple accept="image/jpeg,image/png,image/webp" onChange={(event) => void run(event.currentTarget.files)} />
      </label>
      <span role="status">{said}</span>
      <p class="quiet">A copy is kept without its place and camera data.</p>
      {problem && <ProblemNote of={problem} />}
    </>
  );
}
