// The board: stands × disciplines, and whether the day will end in time. It asks again by itself.
import { useEffect } from "preact/hooks";
import { api, type BoardCell, type BoardShown } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { to } from "../route";

const EVERY_MS = 10_000;

export function BoardPage() {
  const board = useAsked(() => api.board(), []);
  useEffect(() => {
    const ticking = setInterval(() => document.visibilityState === "visible" && void board.again(), EVERY_MS);
    return () => clearInterval(ticking);
  }, [board.again]);
  return (
    <>
      <h1>Board</h1>
      <Shown of={board}>{(found) => (found.stands.length ? <Board of={found} /> : <Empty />)}</Shown>
    </>
  );
}

function Empty() {
  return (
    <p class="lead">
      No stand yet. <a href={to("walk")}>Set the fair up</a>.
    </p>
  );
}

const COLUMNS = [
  ["unseen", "Unseen"],
  ["in_hand", "In hand"],
  ["questions", "Questions"],
  ["done", "Done"],
] as const;

function Board({ of }: { of: BoardShown }) {
  const cells = new Map(of.cells.map((cell) => [`${cell.stand}\n${cell.discipline}`, cell]));
  const disciplines = byWeight(of);
  return (
    <>
      <dl class="totals">
        {COLUMNS.map(([name, words]) => (
          <div key={name}>
            <dt>{words}</dt>
            <dd>{of[name]}</dd>
          </div>
        ))}
        <div class="left">
          <dt>Minutes left</dt>
          <dd>{of.minutes_left ?? "—"}</dd>
        </div>
      </dl>
      <p>{pace(of)}</p>
      <p class="quiet">The board asks again every ten seconds.</p>
      <div class="wide" role="region" aria-label="Stands and disciplines" tabIndex={0}>
        <table class="board">
          <caption class="aloud">Stands and disciplines</caption>
          <thead>
            <tr>
              <th scope="col">Stand</th>
              {disciplines.map((one) => (
                <th key={one} scope="col">
                  {one}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {of.stands.map((stand) => (
              <tr key={stand}>
                <th scope="row">
                  <a href={to("objects", "", { stand })}>{stand}</a>
                </th>
                {disciplines.map((discipline) => (
                  <td key={discipline}>
                    <Cell of={cells.get(`${stand}\n${discipline}`)} />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

/** The discipline with most objects first: on a small screen the last ones are those that hold one or two. */
function byWeight(of: BoardShown): string[] {
  const weight = new Map<string, number>();
  for (const one of of.cells) weight.set(one.discipline, (weight.get(one.discipline) ?? 0) + one.unseen + one.in_hand + one.questions + one.done);
  return [...of.disciplines].sort((a, b) => (weight.get(b) ?? 0) - (weight.get(a) ?? 0));
}

function pace(of: BoardShown): string {
  if (of.minutes_left === null) return "Too little is done yet to tell how long the rest takes.";
  const hours = of.per_hour === null ? "" : ` At ${Math.round(of.per_hour)} objects an hour, as in the last ${of.window_minutes} minutes,`;
  const ends = new Date(Date.now() + of.minutes_left * 60_000).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  const odds = of.minutes_low !== null && of.minutes_high !== null && of.minutes_low < of.minutes_high ? ` Eight times in ten between ${of.minutes_low} and ${of.minutes_high} minutes, if the speed stays.` : "";
  return `${hours} the rest is done about ${ends}.${odds}`.trim();
}

function Cell({ of }: { of: BoardCell | undefined }) {
  if (!of) return <span class="quiet">·</span>;
  const total = of.unseen + of.in_hand + of.questions + of.done;
  const said = COLUMNS.map(([name, words]) => `${of[name]} ${words.toLowerCase()}`).join(", ");
  return (
    <a class="cell" href={to("objects", "", { stand: of.stand, discipline: of.discipline })} aria-label={`Stand ${of.stand}, ${of.discipline}: ${said}`}>
      <span class="figures" aria-hidden="true">
        {COLUMNS.filter(([name]) => of[name]).map(([name, words]) => (
          <span key={name}>
            <b>{of[name]}</b> {of[name] === 1 ? words.toLowerCase().replace(/s$/, "") : words.toLowerCase()}
          </span>
        ))}
      </span>
      <svg class="shares" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
        <rect class="bar-unseen" width="100" height="6" />
        <rect class="bar-hand" width={(100 * (of.done + of.questions + of.in_hand)) / total} height="6" />
        <rect class="bar-questions" width={(100 * (of.done + of.questions)) / total} height="6" />
        <rect class="bar-done" width={(100 * of.done) / total} height="6" />
      </svg>
    </a>
  );
}
