// What is not settled, and what would settle it; and what is under appeal.
import { api } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { Table } from "../parts/table";
import { to } from "../route";
import { ObjectTable } from "./objects";

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

export function AppealsPage() {
  const found = useAsked(() => api.objects({ examination: "under_appeal", size: 200 }), []);
  return (
    <>
      <h1>Appeals</h1>
      <p class="lead">An appeal brings new evidence. Those who decide see label, pictures, readings and reasons, never a ballot.</p>
      <Shown of={found}>{(page) => <ObjectTable of={page.items} caption={page.total ? `${page.total} under appeal` : "Nothing is under appeal."} />}</Shown>
    </>
  );
}
