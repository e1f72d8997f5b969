// Objects: words, filters, a page at a time.
import { useState } from "preact/hooks";
import { api, type ObjectLine } from "../api/client";
import { Sending, Shown, useAsked } from "../parts/asking";
import { Choose, Field } from "../parts/fields";
import { Outcome, outcomeWord } from "../parts/mark";
import { choices, EXAMINATION, LABEL, URGENCY } from "../parts/words";
import { Table } from "../parts/table";
import { go, place, to } from "../route";

const OUTCOMES = Object.fromEntries(["accept", "relabel", "remove", "refer"].map((one) => [one, outcomeWord(one)]));

export function ObjectsPage() {
  const { asked: filter } = place.value;
  const offset = Number(filter.offset ?? 0) || 0;
  const found = useAsked(() => api.objects({ ...only(filter), offset }), [JSON.stringify(filter)]);
  return (
    <>
      <h1>Objects{filter.stand && <> of stand <span class="stand">{filter.stand}</span></>}</h1>
      <Filters now={filter} />
      <Shown of={found}>
        {(page) => (
          <>
            <ObjectTable of={page.items} caption={saying(page.offset, page.items.length, page.total)} />
            <Pages offset={page.offset} next={page.next} size={50} filter={filter} />
          </>
        )}
      </Shown>
    </>
  );
}

const FILTERS = ["text", "stand", "discipline", "examination", "outcome", "label"] as const;
const only = (asked: Record<string, string>) =>
  Object.fromEntries(FILTERS.map((name) => [name, asked[name] ?? ""]).filter(([, value]) => value)) as Record<string, string>;

const saying = (offset: number, here: number, total: number) =>
  total === 0 ? "Nothing fits." : `${offset + 1} to ${offset + here} of ${total}`;

export function ObjectTable({ of, caption }: { of: ObjectLine[]; caption: string }) {
  return (
    <Table
      caption={caption}
      heads={["Stand", "No.", "Words", "Where it stands", "To mend"]}
      rows={of.map((one) => [
        <span class="stand">{one.stand}</span>,
        one.number,
        <a href={to("object", one.id)}>{one.text || "(no words)"}</a>,
        <>
          {one.outcome && <Outcome of={one.outcome} />} {EXAMINATION[one.examination]}
          {one.label !== "as_hung" && one.label !== "draft" && <span class="quiet"> · {LABEL[one.label]}</span>}
        </>,
        one.faults ? `${one.faults} · ${URGENCY[one.worst ?? 4]}` : "nothing",
      ])}
    />
  );
}

function Pages({ offset, next, size, filter }: { offset: number; next: number | null; size: number; filter: Record<string, string> }) {
  const at = (from: number) => to("objects", "", { ...filter, offset: String(from) });
  if (!offset && next === null) return null;
  return (
    <nav class="row" aria-label="More objects">
      {offset > 0 && <a class="button" href={at(Math.max(0, offset - size))}>Earlier</a>}
      {next !== null && <a class="button" href={at(next)}>Further</a>}
    </nav>
  );
}

function Filters({ now }: { now: Record<string, string> }) {
  const [given, set] = useState<Record<string, string>>(only(now));
  const fair = useAsked(() => api.fair(), []);
  const put = (name: string) => (value: string) => set({ ...given, [name]: value });
  const disciplines = Object.fromEntries((fair.value?.disciplines ?? []).map((one) => [one, one]));
  return (
    <details class="filters" open={Object.keys(only(now)).length > 0}>
      <summary>Choose which</summary>
      <Sending run={async () => go("objects", "", given)} submit="Show these" legend="Choose which objects">
        <div class="three">
          <Field name="Words" kind="search" value={given.text ?? ""} set={put("text")} />
          <Field name="Stand" value={given.stand ?? ""} set={put("stand")} />
          <Choose name="Discipline" value={given.discipline ?? ""} set={put("discipline")} of={choices(disciplines, "every")} />
          <Choose name="Examination" value={given.examination ?? ""} set={put("examination")} of={choices(EXAMINATION, "every")} />
          <Choose name="Outcome" value={given.outcome ?? ""} set={put("outcome")} of={choices(OUTCOMES, "every")} />
          <Choose name="Label" value={given.label ?? ""} set={put("label")} of={choices(LABEL, "every")} />
        </div>
      </Sending>
    </details>
  );
}
