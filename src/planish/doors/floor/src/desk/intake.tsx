// A list on its way in: columns guessed and changeable, what is odd, what would change, then yes; and undone again.
import { useEffect, useState } from "preact/hooks";
import { api, type ColumnShown, type IntakeShown } from "../api/client";
import { Act, Sending, Shown, useAsked } from "../parts/asking";
import { OddCells } from "../parts/notes";
import { Table } from "../parts/table";
import { plain } from "../parts/words";
import { place, to } from "../route";
import { me } from "../session";

export function IntakePage() {
  const id = place.value.piece;
  const asked = useAsked(() => api.intake({ intake: id }), [id]);
  const state = asked.value?.state;
  useEffect(() => {
    if (state !== "reading" && state !== "taking") return;
    const ticking = setInterval(() => void asked.again(), 700);
    return () => clearInterval(ticking);
  }, [state, asked.again]);
  return <Shown of={asked}>{(one) => <Intake of={one} put={asked.put} />}</Shown>;
}

const SAYS: Record<IntakeShown["state"], string> = {
  reading: "is being read",
  ready: "is read and waits for your yes",
  taking: "is being taken in",
  taken: "is taken in",
  failed: "could not be read",
  undone: "was undone; the stand's list is as before",
};

function Intake({ of, put }: { of: IntakeShown; put: (one: IntakeShown) => void }) {
  const at = { intake: of.id };
  const waiting = of.state === "reading" || of.state === "taking";
  return (
    <>
      <h1>
        Stand <span class="stand">{of.stand}</span>: {of.file}
      </h1>
      <p class="lead" role="status">
        The list {SAYS[of.state]}.
      </p>
      {waiting && (
        <p>
          <label for="far">
            {of.done} of {of.total || "?"} rows
          </label>{" "}
          <progress id="far" max={of.total || 1} value={of.done} />
        </p>
      )}
      {of.state === "ready" && (
        <p class="row">
          <Act run={async () => put(await api.take_list(at))}>Take it in: {of.objects} objects</Act>
          <a href={to(me.value?.kind === "card" ? "" : "stands")}>Leave it</a>
        </p>
      )}
      {of.state === "taken" && (
        <p class="row">
          <a class="button" href={me.value?.kind === "card" ? "#/" : to("objects", "", { stand: of.stand })}>
            See the objects
          </a>
          {of.may_undo && (
            <Act plain run={async () => put(await api.undo_list(at))}>
              Undo
            </Act>
          )}
        </p>
      )}
      <WouldChange of={of} />
      {of.problems.length > 0 && (
        <section aria-labelledby="odd">
          <h2 id="odd">{of.problems.length} cells to look at</h2>
          <OddCells of={of.problems} />
        </section>
      )}
      {of.questions.length > 0 && (
        <section aria-labelledby="back">
          <h2 id="back">Questions back</h2>
          <ul>{of.questions.map((one) => <li key={one}>{one}</li>)}</ul>
        </section>
      )}
      {of.columns.length > 0 && <Columns of={of} put={put} />}
    </>
  );
}

function WouldChange({ of }: { of: IntakeShown }) {
  if (of.state !== "ready" && of.state !== "taken") return null;
  return (
    <>
      <p>
        {of.added} new, {of.same} as before, {of.changed.length} read differently, {of.removed.length} gone.
      </p>
      {of.changed.length > 0 && (
        <Table caption="Read differently" heads={["No.", "What", "Before", "Now"]} rows={of.changed.map((one) => [one.number, plain(one.field), one.before, one.after])} />
      )}
      {of.removed.length > 0 && (
        <Table caption="No longer on the list" heads={["No.", "Words"]} rows={of.removed.map((one) => [one.number, one.text])} />
      )}
      {of.first_rows.length > 0 && (
        <Table caption="The first rows, as they were read" heads={["No.", "Words"]} rows={of.first_rows.map((one) => [one.number, one.text])} />
      )}
    </>
  );
}

const sure = (share: number) => (share >= 0.9 ? "sure" : share >= 0.6 ? "likely" : "a guess");

function Columns({ of, put }: { of: IntakeShown; put: (one: IntakeShown) => void }) {
  const [chosen, setChosen] = useState<Record<string, string>>({});
  const may = of.state === "ready";
  const run = async () => {
    put(await api.choose_columns({ intake: of.id }, { columns: chosen }));
    setChosen({});
  };
  const table = (
    <Table
      caption="What each column was taken for"
      heads={["Column", "Heading", "Taken for", "Why"]}
      rows={of.columns.map((one) => [
        one.letter,
        one.heading || "(none)",
        may ? <Field of={one} fields={of.fields} chosen={chosen} set={setChosen} /> : plain(one.field || "left out"),
        `${sure(one.confidence)}: ${one.why}`,
      ])}
    />
  );
  if (!may) return table;
  return (
    <Sending run={run} submit="Read it again with these columns" legend="Columns">
      {table}
    </Sending>
  );
}

interface Chosen {
  of: ColumnShown;
  fields: string[];
  chosen: Record<string, string>;
  set: (chosen: Record<string, string>) => void;
}

function Field({ of, fields, chosen, set }: Chosen) {
  const now = chosen[of.heading] ?? (of.field || "ignore");
  const all = [...new Set(["ignore", ...fields, now])];
  return (
    <select aria-label={`Column ${of.letter} is`} value={now} onChange={(event) => set({ ...chosen, [of.heading]: event.currentTarget.value })}>
      {all.map((field) => (
        <option key={field} value={field}>
          {field === "ignore" ? "left out" : plain(field)}
        </option>
      ))}
    </select>
  );
}
