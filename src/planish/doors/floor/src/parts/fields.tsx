// Fields with their names always visible, and their hints read out with them.
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

interface Text {
  name: string;
  value: string;
  set: (value: string) => void;
  hint?: string;
  kind?: "text" | "password" | "date" | "number" | "search";
  needed?: boolean;
  long?: boolean;
  complete?: string;
  lines?: number;
}

export function Field({ name, value, set, hint, kind = "text", needed, long, complete, lines = 3 }: Text) {
  const id = useId();
  const shared = {
    id,
    value,
    required: needed,
    "aria-describedby": hint ? `${id}-hint` : undefined,
    onInput: (event: Event) => set((event.currentTarget as HTMLInputElement).value),
  };
  return (
    <p class="field">
      <label for={id}>{name}</label>
      {hint && (
        <span class="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {long ? <textarea rows={lines} {...shared} /> : <input {...({ type: kind, autocomplete: complete ?? "off", ...shared } as object)} />}
    </p>
  );
}

export interface Choice {
  value: string;
  words: string;
}

interface Choosing {
  name: string;
  value: string;
  set: (value: string) => void;
  of: Choice[];
  hint?: string;
}

export function Choose({ name, value, set, of, hint }: Choosing) {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{name}</label>
      {hint && (
        <span class="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      <select
        id={id}
        value={value}
        aria-describedby={hint ? `${id}-hint` : undefined}
        onChange={(event) => set(event.currentTarget.value)}
      >
        {of.map((one) => (
          <option key={one.value} value={one.value}>
            {one.words}
          </option>
        ))}
      </select>
    </p>
  );
}

interface OneOf {
  legend: string;
  value: string;
  set: (value: string) => void;
  of: { value: string; words: ComponentChildren }[];
}

export function OneOf({ legend, value, set, of }: OneOf) {
  const id = useId();
  return (
    <fieldset>
      <legend>{legend}</legend>
      {of.map((one) => (
        <label key={one.value} class="choice">
          <input type="radio" name={id} checked={value === one.value} onChange={() => set(one.value)} />
          <span>{one.words}</span>
        </label>
      ))}
    </fieldset>
  );
}

interface SomeOf {
  legend: string;
  values: string[];
  set: (values: string[]) => void;
  of: Choice[];
}

export function SomeOf({ legend, values, set, of }: SomeOf) {
  const turn = (value: string, on: boolean) => set(on ? [...values, value] : values.filter((one) => one !== value));
  return (
    <fieldset>
      <legend>{legend}</legend>
      <div class="choices">
        {of.map((one) => (
          <label key={one.value} class="choice">
            <input
              type="checkbox"
              checked={values.includes(one.value)}
              onChange={(event) => turn(one.value, event.currentTarget.checked)}
            />
            <span>{one.words}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
