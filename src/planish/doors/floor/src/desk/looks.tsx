// What was seen and measured, and what that tells. A finding is what was seen, never a conclusion.
import { useState } from "preact/hooks";
import { api, type Figure, type ObservationShown } from "../api/client";
import { Sending } from "../parts/asking";
import { Choose, Field } from "../parts/fields";
import { plain } from "../parts/words";
import type { Part } from "./object";

export function Looks({ of, put }: Part) {
  const may = of.may.includes("observe");
  if (!may && !of.observations.length) return null;
  return (
    <section aria-labelledby="looks">
      <h2 id="looks">What was seen</h2>
      {of.observations.length === 0 && <p>Nothing is noted yet.</p>}
      <ul class="ruled">
        {of.observations.map((one) => (
          <Look key={one.id} of={one} />
        ))}
      </ul>
      {may && (
        <details>
          <summary>Note what you saw</summary>
          <Note id={of.id} put={put} />
        </details>
      )}
    </section>
  );
}

function Look({ of }: { of: ObservationShown }) {
  const figures = of.values.map((one) => `${plain(one.name)} ${one.amount}${one.uncertainty ? ` ± ${one.uncertainty}` : ""} ${one.unit}`.trim());
  const with_ = [of.instrument, of.spot, of.surface].filter(Boolean).join(", ");
  return (
    <li>
      <p>
        <strong>{plain(of.kind)}</strong>
        {of.part && ` · ${of.part}`}: {[of.words, ...of.terms.map((one) => plain(one.replace(/^\w+\./, ""))), ...figures, ...Object.entries(of.more).map(([name, words]) => `${plain(name)} ${words}`)].filter(Boolean).join(" · ")}
        {with_ && <span class="quiet"> ({with_})</span>}
      </p>
      {of.sentences.map((one) => (
        <p key={one}>{one}</p>
      ))}
      {of.cautions.map((one) => (
        <p key={one} class="caution">
          Caution: {one}
        </p>
      ))}
    </li>
  );
}

interface Kind {
  words: string;
  figures?: [name: string, unit: string, words: string][];
  lines?: string;
  more?: [name: string, words: string, hint: string][];
  hint: string;
}

/** The looks a desk takes down, each with the figures its instrument needs. */
const KINDS: Record<string, Kind> = {
  construction: { words: "how it is made", hint: "Seams, joints, tool marks, fit of the parts." },
  wear: { words: "wear", hint: "Where it is worn and where it is not." },
  condition: { words: "condition", hint: "One thing at a time: repair, loss, later decoration." },
  mark: {
    words: "a mark, as it reads",
    more: [
      ["registered", "Registered design number", "British, of 1884 or later. Only if there is one."],
      ["patent", "Patent number", "British with its year, 12345/1890; American as it stands."],
      ["country", "Whose patent: gb or us", "Only with a patent number."],
    ],
    hint: "The letters and figures as they stand, nothing added.",
  },
  weight: {
    words: "weighed, and a weight engraved on it",
    figures: [["weight", "g", "Weight now"]],
    more: [["engraved", "The weight engraved", "As it stands, such as 22=14."]],
    hint: "A weight says nothing by itself.",
  },
  disclosure: { words: "something the exhibitor said", hint: "In their words." },
  density: {
    words: "weighed in air and water",
    figures: [
      ["air", "g", "Weight in air"],
      ["water", "g", "Weight in water"],
      ["temperature", "degC", "Water temperature"],
    ],
    hint: "Hollow or plated pieces mislead; say so here.",
  },
  size: {
    words: "height, width, diameter",
    figures: [
      ["height", "mm", "Height"],
      ["width", "mm", "Width"],
      ["depth", "mm", "Depth"],
      ["diameter", "mm", "Diameter"],
      ["length", "mm", "Length"],
    ],
    hint: "Taken over what: handle, cover, base.",
  },
  capacity: { words: "how much it holds", figures: [["capacity", "ml", "Capacity to the brim"]], more: [["unit", "The measure it is marked or sold as", "pint, quart, gill … if any."], ["place", "Where that measure held", "england, scotland, us … if known."]], hint: "How it was measured." },
  thread: {
    words: "a screw thread",
    figures: [
      ["pitch", "mm", "Pitch"],
      ["diameter", "mm", "Outer diameter"],
    ],
    hint: "Name the part the screw belongs to, above.",
  },
  composition: { words: "composition, read by a licensed operator", lines: "wt%", hint: "One metal a line, such as: Zn 32.4 ± 0.6" },
  members: { words: "weights of the pieces of a set", lines: "g", more: [["groups", "Two kinds among them", "One letter a piece, such as AABB. Only if there are two."]], hint: "One piece a line, such as: 1 412 ± 1" },
};

const EMPTY = { kind: "construction", part: "", words: "", instrument: "", spot: "", surface: "", lines: "" };
const LINE = /^(\S+)\s+(-?[\d.,]+)(?:\s*(?:±|\+\/-|\s)\s*([\d.,]+))?\s*$/;
const number = (text: string) => Number(text.replace(",", "."));

/** "Zn 32.4 ± 0.6" a line, to figures by name; lines that cannot be read are given back. */
export function figuresOf(text: string, unit: string): { values: Record<string, Figure>; odd: string[] } {
  const values: Record<string, Figure> = {};
  const odd: string[] = [];
  for (const line of text.split("\n").filter((one) => one.trim())) {
    const [, name, amount, give] = LINE.exec(line.trim()) ?? [];
    if (!name || !amount || Number.isNaN(number(amount))) odd.push(line.trim());
    else values[name] = { amount: number(amount), unit, uncertainty: give ? number(give) : 0 };
  }
  return { values, odd };
}

function Note({ id, put }: { id: string; put: Part["put"] }) {
  const [given, set] = useState(EMPTY);
  const [figures, setFigures] = useState<Record<string, string>>({});
  const [more, setMore] = useState<Record<string, string>>({});
  const [original, setOriginal] = useState("");
  const kind = KINDS[given.kind] ?? { words: "", hint: "" };
  const field = (name: keyof typeof EMPTY) => (value: string) => set({ ...given, [name]: value });
  const run = async () => {
    const { lines, ...rest } = given;
    const read = kind.lines ? figuresOf(lines, kind.lines) : figuresOf(typed(kind, figures), "");
    if (read.odd.length) throw new Error(`This line cannot be read: ${read.odd[0]}`);
    for (const [name, unit] of kind.figures ?? []) if (read.values[name]) read.values[name].unit = unit;
    put(await api.add_observation({ object_id: id }, { ...rest, values: read.values, more: besides(kind, more), original: original ? original === "yes" : null }));
    set({ ...EMPTY, kind: given.kind });
    setFigures({});
    setMore({});
    setOriginal("");
  };
  return (
    <Sending run={run} submit="Note it" done="At the desk." legend="Note what you saw">
      <Choose name="What kind of look" value={given.kind} set={field("kind")} of={Object.entries(KINDS).map(([value, one]) => ({ value, words: one.words }))} />
      <Field name="Which part" hint="Left empty: the whole." value={given.part} set={field("part")} />
      {kind.figures && <Figures of={kind.figures} given={figures} set={setFigures} />}
      {kind.lines && <Field name={`Figures, in ${kind.lines}`} hint={kind.hint} value={given.lines} set={field("lines")} long needed />}
      {kind.more?.map(([name, words, hint]) => <Field key={name} name={words} hint={hint} value={more[name] ?? ""} set={(value) => setMore({ ...more, [name]: value })} />)}
      {given.kind === "mark" && <Choose name="Is the mark original to the object?" value={original} set={setOriginal} of={[{ value: "", words: "not said" }, { value: "yes", words: "yes" }, { value: "no", words: "no" }]} />}
      <Field name="What you saw" hint={kind.lines ? "Only what is there; no conclusion." : `${kind.hint} No conclusion.`} value={given.words} set={field("words")} long needed={!kind.figures && !kind.lines} />
      {(kind.figures || kind.lines) && (
        <div class="three">
          <Field name="Instrument" value={given.instrument} set={field("instrument")} />
          <Field name="Spot" value={given.spot} set={field("spot")} />
          <Field name="Surface" hint="As found, or cleaned." value={given.surface} set={field("surface")} />
        </div>
      )}
    </Sending>
  );
}

/** What the kind asks besides figures and words, as far as something was given. */
const besides = (kind: Kind, more: Record<string, string>) => Object.fromEntries((kind.more ?? []).flatMap(([name]) => (more[name]?.trim() ? [[name, more[name].trim()]] : [])));

const typed = (kind: Kind, figures: Record<string, string>) =>
  (kind.figures ?? [])
    .filter(([name]) => figures[name]?.trim())
    .map(([name]) => `${name} ${figures[name]}`)
    .join("\n");

function Figures({ of, given, set }: { of: NonNullable<Kind["figures"]>; given: Record<string, string>; set: (figures: Record<string, string>) => void }) {
  return (
    <div class="three">
      {of.map(([name, unit, words]) => (
        <Field key={name} name={`${words}, in ${unit}`} hint="With its doubt if known: 412 ± 1" value={given[name] ?? ""} set={(value) => set({ ...given, [name]: value })} />
      ))}
    </div>
  );
}
