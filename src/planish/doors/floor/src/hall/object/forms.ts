// The looks a tablet takes down: each kind with the figures its instrument needs, and the words its pack settles on.
import { CONDITION, LOOKS } from "./pack";

export interface Form {
  words: string;
  hint: string;
  figures?: readonly (readonly [name: string, unit: string, words: string])[];
  /** Free figures, one a line, in this unit. */
  lines?: string;
  terms?: readonly string[];
}

export const FORMS: Record<string, Form> = {
  construction: { words: "how it is made", hint: "Seams, joints, tool marks, fit of the parts." },
  wear: { words: "wear", hint: "Where it is worn and where it is not." },
  condition: { words: "condition", hint: "One thing at a time.", terms: CONDITION.map((one) => one.term) },
  mark: { words: "a mark, as it reads", hint: "The letters and figures as they stand, nothing added." },
  disclosure: { words: "something the exhibitor said", hint: "In their words." },
  weight: { words: "weight", hint: "What was on the scale with it.", figures: [["weight", "g", "Weight"]] },
  density: {
    words: "weighed in air and water",
    hint: "Hollow or plated pieces mislead; say so here.",
    figures: [
      ["air", "g", "Weight in air"],
      ["water", "g", "Weight in water"],
      ["temperature", "degC", "Water temperature"],
    ],
  },
  capacity: { words: "how much it holds", hint: "How it was measured.", figures: [["capacity", "ml", "Capacity to the brim"]] },
  thread: {
    words: "a screw thread",
    hint: "Name the part the screw belongs to.",
    figures: [
      ["pitch", "mm", "Pitch"],
      ["diameter", "mm", "Outer diameter"],
    ],
  },
  composition: { words: "composition, by a licensed operator", hint: "One metal a line, such as: Zn 32.4 ± 0.6", lines: "wt%" },
  members: { words: "weights of the pieces of a set", hint: "One piece a line, such as: 1 412 ± 1", lines: "g" },
};

export const CAUTIONS: Record<string, string> = {
  composition: "X-ray analysers are for licensed operators only; follow local rules.",
  density: "Water harms some surfaces and fillings; ask the exhibitor first.",
};

export const looksFor = (kind: string) => (kind === "construction" ? LOOKS : []);
export const howItLooks = (term: string): string => CONDITION.find((one) => one.term === term)?.looks ?? "";

const LINE = /^(\S+)\s+(-?[\d.,]+)(?:\s*(?:±|\+\/-|\s)\s*([\d.,]+))?\s*$/;
const FIGURE = /^(-?[\d.,]+)(?:\s*(?:±|\+\/-|\s)\s*([\d.,]+))?\s*$/;
const number = (text: string) => Number(text.replace(",", "."));

export type Values = Record<string, (number | string)[]>;

const quantity = (amount: string, unit: string, give: string | undefined): (number | string)[] => (give ? [number(amount), unit, number(give)] : [number(amount), unit]);

/** The figures typed, as the log keeps them: [amount, unit] or with the standard uncertainty. Throws naming what cannot be read. */
export function valuesOf(form: Form, figures: Record<string, string>, lines: string): Values {
  const values: Values = {};
  for (const [name, unit, words] of form.figures ?? []) {
    const text = (figures[name] ?? "").trim();
    if (!text) continue;
    const [, amount, give] = FIGURE.exec(text) ?? [];
    if (!amount || Number.isNaN(number(amount))) throw new Error(`${words}: “${text}” is not a figure.`);
    values[name] = quantity(amount, unit, give);
  }
  for (const line of form.lines ? lines.split("\n").filter((one) => one.trim()) : []) {
    const [, name, amount, give] = LINE.exec(line.trim()) ?? [];
    if (!name || !amount || Number.isNaN(number(amount))) throw new Error(`This line cannot be read: ${line.trim()}`);
    values[name] = quantity(amount, form.lines ?? "", give);
  }
  return values;
}
