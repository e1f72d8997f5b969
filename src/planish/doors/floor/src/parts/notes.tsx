// What the desk says when something is in the way: where, what, why, the way out.
import type { Problem } from "../api/call";
import type { OddCell } from "../api/client";

export function ProblemNote({ of }: { of: Problem }) {
  return (
    <div class="note" role="alert">
      <p>
        <strong>{of.what}</strong> {of.why}
      </p>
      <p>{of.remedy}</p>
      <p class="quiet">Where: {of.where}</p>
    </div>
  );
}

const HOW_BAD: Record<number, string> = { 1: "stops the work", 2: "put right first", 3: "put right soon", 4: "good to know" };
export const howBad = (severity: number) => HOW_BAD[severity] ?? "good to know";

export function OddCells({ of }: { of: OddCell[] }) {
  return (
    <ul class="ruled">
      {of.map((one, n) => (
        <li key={n}>
          <p>
            <span class="where">{one.where}</span> <strong>{one.what}</strong>
            {one.found && <> Found: “{one.found}”.</>} {one.why}
          </p>
          <p>
            {one.remedy} <span class="quiet">({howBad(one.severity)})</span>
          </p>
        </li>
      ))}
    </ul>
  );
}
