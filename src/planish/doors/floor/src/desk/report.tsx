// The report in figures, each with its denominator and its interval. The whole of it is a paper.
import { api } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { Table } from "../parts/table";
import { office } from "../session";

const percent = (share: number) => `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;

export function ReportPage() {
  const found = useAsked(() => api.report(), []);
  return (
    <>
      <h1>Report</h1>
      <Shown of={found}>
        {(one) => (
          <>
            <p class="lead">
              {one.fair}, rule book {one.rulebook}.
            </p>
            {office() && (
              <p>
                <a class="button" href="/api/v1/papers/report.pdf" target="_blank" rel="noreferrer">
                  Open the printed report
                </a>
              </p>
            )}
            {one.paragraphs.map((words) => (
              <p key={words}>{words}</p>
            ))}
            <Table caption="What was seen" heads={["Objects", "How many"]} rows={one.coverage} />
            <Table
              caption="Shares, with 95 % intervals"
              heads={["What", "Of", "Count", "Share"]}
              rows={one.rates.map((rate) => [
                rate.what,
                rate.of,
                `${rate.count} of ${rate.total}`,
                rate.total ? `${percent(rate.count / rate.total)} (${percent(rate.low)} to ${percent(rate.high)})` : "—",
              ])}
            />
            {one.limits.length > 0 && (
              <>
                <h2>What these figures do not say</h2>
                <ul>
                  {one.limits.map((words) => (
                    <li key={words}>{words}</li>
                  ))}
                </ul>
              </>
            )}
          </>
        )}
      </Shown>
    </>
  );
}
