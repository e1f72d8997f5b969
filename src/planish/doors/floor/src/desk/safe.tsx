// The locked room: what is in it, where, in what condition, on which receipt.
import { api } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { Table } from "../parts/table";
import { to } from "../route";

export function SafePage() {
  const found = useAsked(() => api.safe_keeping(), []);
  return (
    <>
      <h1>Safe-keeping</h1>
      <p class="lead">A piece goes in and out from its own page, with two hands and a line on its condition.</p>
      <p>
        <a class="button plain" href="/api/v1/papers/receipts.pdf" target="_blank" rel="noreferrer">
          Print all receipts
        </a>
      </p>
      <Shown of={found}>
        {(all) =>
          all.length ? (
            <Table
              caption={`${all.length} in safe-keeping`}
              heads={["Receipt", "Stand", "No.", "Words", "Place", "Condition", "Print"]}
              rows={all.map((one) => [
                one.receipt,
                <span class="stand">{one.stand}</span>,
                one.number,
                <a href={to("object", one.object)}>{one.text}</a>,
                one.place || "—",
                one.condition || "—",
                <a href={`/api/v1/papers/receipts.pdf?object=${encodeURIComponent(one.object)}`} target="_blank" rel="noreferrer" aria-label={`Print receipt ${one.receipt}`}>
                  Receipt
                </a>,
              ])}
            />
          ) : (
            <p>The room is empty.</p>
          )
        }
      </Shown>
    </>
  );
}
