// What is not settled, and what would settle it.
import { api } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { Table } from "../parts/table";
import { to } from "../route";

export function OpenCasesPage() {
  const found = useAsked(() => api.open_cases(), []);
  return (
    <>
      <h1>Open cases</h1>
      <Shown of={found}>
        {(all) =>
          all.length ? (
            <Table
              caption={`${all.length} not settled`}
              heads={["Stand", "No.", "Words", "Open because", "What would settle it"]}
              rows={all.map((one) => [<span class="stand">{one.stand}</span>, one.number, <a href={to("object", one.object)}>{one.words}</a>, one.open, one.next])}
            />
          ) : (
            <p>Nothing is open.</p>
          )
        }
      </Shown>
    </>
  );
}
