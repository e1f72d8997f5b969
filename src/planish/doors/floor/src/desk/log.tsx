// The log read back and checked entry by entry; its lines for an auditor.
import { useState } from "preact/hooks";
import { api, type LogVerified } from "../api/client";
import { Act, Shown, useAsked } from "../parts/asking";
import { OddCells } from "../parts/notes";
import { Table } from "../parts/table";
import { when } from "../parts/words";
import { go, place } from "../route";
import { has } from "../session";

export function LogPage() {
  const [found, setFound] = useState<LogVerified>();
  return (
    <>
      <h1>The log</h1>
      <p class="lead">Every entry is chained to the one before. Reading it back shows whether one was changed, added or taken out.</p>
      <Act run={async () => setFound(await api.verify_log())}>Read the log back and check it</Act>
      {found && (
        <div class="note" role="status">
          <p>
            <strong>{found.whole ? "The log is whole." : "The log is not whole."}</strong> {found.entries} entries. {found.words}
          </p>
          <p class="quiet digest">Head: {found.head}</p>
          <OddCells of={found.problems} />
        </div>
      )}
      {has("auditor") && <Lines />}
    </>
  );
}

function Lines() {
  const after = Number(place.value.asked.after ?? 0) || 0;
  const found = useAsked(() => api.log({ after }), [after]);
  return (
    <Shown of={found}>
      {(all) => (
        <>
          <Table caption="Entries, without their texts" heads={["Entry", "When", "Kind", "About", "By", "State"]} rows={all.map((one) => [one.n, when(one.at), one.kind, one.sub, one.who, one.status])} />
          <p class="row">
            {after > 0 && <button type="button" class="plain" onClick={() => go("log", "", { after: String(Math.max(0, after - 100)) })}>Earlier</button>}
            {all.length === 100 && <button type="button" class="plain" onClick={() => go("log", "", { after: String(all.at(-1)?.n ?? 0) })}>Later</button>}
          </p>
        </>
      )}
    </Shown>
  );
}
