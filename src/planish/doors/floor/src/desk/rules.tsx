// The rule book: clauses, how votes are counted, switches; compared with another fair's.
import { useState } from "preact/hooks";
import { api, type RulesShown, type SettingShown } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { Choose } from "../parts/fields";
import { plain, URGENCY } from "../parts/words";
import { Table } from "../parts/table";

export function RulesPage() {
  const rules = useAsked(() => api.rules(), []);
  const books = useAsked(() => api.rulebooks(), []);
  const [other, setOther] = useState("");
  return (
    <>
      <h1>Rules</h1>
      <Shown of={rules}>
        {(book) => (
          <>
            <p class="lead">
              {book.fair}, version {book.version}. Each check points at its clause, each slip prints it.
            </p>
            <Shown of={books}>
              {(found) => (
                <Choose
                  name="Compare with another rule book"
                  value={other}
                  set={setOther}
                  of={[{ value: "", words: "none" }, ...found.filter((b) => b.id !== book.id).map((b) => ({ value: b.id, words: b.fair }))]}
                />
              )}
            </Shown>
            {other && <Compared name={other} />}
            <Book of={book} />
          </>
        )}
      </Shown>
    </>
  );
}

function Compared({ name }: { name: string }) {
  const asked = useAsked(() => api.rules_compared({ name }), [name]);
  return (
    <Shown of={asked}>
      {(found) => (
        <Table
          caption={`${found.length} differences`}
          heads={["What", "Here", name]}
          rows={found.map((one) => [plain(one.what), one.left || "—", one.right || "—"])}
        />
      )}
    </Shown>
  );
}

function Book({ of }: { of: RulesShown }) {
  return (
    <>
      <h2>Clauses</h2>
      <dl class="clauses">
        {of.clauses.map((clause) => (
          <div key={clause.number} id={`clause-${clause.number}`}>
            <dt>{clause.number}</dt>
            <dd>
              {clause.text} <span class="quiet">Broken: {URGENCY[clause.severity] ?? "advice"}.</span>
            </dd>
          </div>
        ))}
      </dl>
      {Object.keys(of.datelines).length > 0 && (
        <Table caption="Datelines" heads={["For", "Made up to"]} rows={Object.entries(of.datelines).map(([k, v]) => [plain(k), String(v)])} />
      )}
      <Settings name="How votes are counted" of={of.voting} />
      <Settings name="Switches" of={of.switches} />
      {Object.keys(of.definitions).length > 0 && (
        <Table caption="What words mean here" heads={["Word", "Meaning"]} rows={Object.entries(of.definitions)} />
      )}
    </>
  );
}

function Settings({ name, of }: { name: string; of: SettingShown[] }) {
  return (
    <Table
      caption={name}
      heads={["What", "Set to", "From"]}
      rows={of.map((one) => [
        plain(one.name),
        one.value,
        one.clause ? `clause ${one.clause}` : one.house_default ? "house default" : "rule book",
      ])}
    />
  );
}
