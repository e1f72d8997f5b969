// What was seen or measured, by kind, with the pack's own words; and pictures. A finding is what was seen, never a conclusion.
import { useState } from "preact/hooks";
import { Choose, Field, OneOf } from "../../parts/fields";
import { useTyped } from "../parts/drafts";
import { Frame } from "../parts/frame";
import { Press } from "../parts/press";
import { plural } from "../parts/words";
import { to } from "../go";
import type { Doc } from "../outbox/shapes";
import { bare, keepPicture } from "../outbox/pictures";
import { note } from "../round/doing";
import { pictures, wrote } from "../state";
import { CAUTIONS, FORMS, howItLooks, looksFor, valuesOf } from "./forms";
import { docHere, Missing } from "./page";

interface Look {
  kind: string;
  part: string;
  term: string;
  words: string;
  instrument: string;
  spot: string;
  surface: string;
  lines: string;
  figures: Record<string, string>;
}

const EMPTY: Look = { kind: "construction", part: "", term: "", words: "", instrument: "", spot: "", surface: "", lines: "", figures: {} };

export function LookPage() {
  const doc = docHere();
  return doc ? <TheLook of={doc} /> : <Missing />;
}

function TheLook({ of }: { of: Doc }) {
  const [given, set, clear] = useTyped<Look>(`look:${of.id}`, EMPTY);
  const [done, setDone] = useState(0);
  const form = FORMS[given.kind] ?? { words: "", hint: "" };
  const field = (name: keyof Look) => (value: string) => set({ ...given, [name]: value });
  const run = async () => {
    const body = bodyOf(given);
    await note({ kind: "observation.made/1", sub: of.id, body });
    await clear();
    setDone(done + 1);
  };
  const measured = Boolean(form.figures || form.lines);
  return (
    <Frame stand={of.stand} title={`What you see on No. ${of.number}`} bar={<><Press run={run}>Note it</Press><a class="button plain" href={to("object", of.id)}>Back to the object</a></>}>
      <p role="status">{done > 0 && `${plural(done, "look")} noted, on this tablet.`}</p>
      <Pictures of={of} />
      <Choose name="What kind of look" value={given.kind} set={(kind) => set({ ...given, kind, term: "" })} of={Object.entries(FORMS).map(([value, one]) => ({ value, words: one.words }))} />
      {CAUTIONS[given.kind] && <p class="caution">Caution: {CAUTIONS[given.kind]}</p>}
      {form.terms && <Choose name="Settled word" value={given.term} set={field("term")} of={[{ value: "", words: "none of these" }, ...form.terms.map((one) => ({ value: one, words: one }))]} hint={howItLooks(given.term)} />}
      {looksFor(given.kind).length > 0 && <PackLooks given={given} set={set} />}
      <Field name="Which part" hint="Left empty: the whole." value={given.part} set={field("part")} />
      {form.figures?.map(([name, unit, words]) => (
        <Field key={name} name={`${words}, in ${unit}`} hint="With its doubt if known: 412 ± 1" value={given.figures[name] ?? ""} set={(value) => set({ ...given, figures: { ...given.figures, [name]: value } })} />
      ))}
      {form.lines && <Field name={`Figures, in ${form.lines}`} hint={form.hint} value={given.lines} set={field("lines")} long />}
      <Field name="What you saw" hint={form.lines ? "Only what is there; no conclusion." : `${form.hint} No conclusion.`} value={given.words} set={field("words")} long />
      {measured && (
        <>
          <Field name="Instrument" value={given.instrument} set={field("instrument")} />
          <Field name="Spot" value={given.spot} set={field("spot")} />
          <Field name="Surface" hint="As found, or cleaned." value={given.surface} set={field("surface")} />
        </>
      )}
    </Frame>
  );
}

/** The pack's own looks: what to do, and what may be found. Choosing one writes its words; they can be changed. */
function PackLooks({ given, set }: { given: Look; set: (next: Look) => void }) {
  return (
    <details>
      <summary>Looks of the metal pack</summary>
      {looksFor(given.kind).map((one) => (
        <div key={one.say}>
          {one.caution && <p class="caution">Caution: {one.caution}</p>}
          <OneOf legend={one.say} value={given.words} set={(words) => set({ ...given, words })} of={one.finds.map((words) => ({ value: words, words }))} />
        </div>
      ))}
    </details>
  );
}

function bodyOf(given: Look): Record<string, unknown> {
  const form = FORMS[given.kind] ?? { words: "", hint: "" };
  const values = valuesOf(form, given.figures, given.lines);
  const some = Object.keys(values).length > 0;
  if (!given.words.trim() && !given.term && !some) throw new Error("Say what you saw, or give a figure.");
  const measured = form.figures || form.lines ? { instrument: given.instrument.trim(), spot: given.spot.trim(), surface: given.surface.trim() } : {};
  return { kind: given.kind, part: given.part.trim(), words: given.words.trim(), ...(some ? { values } : {}), ...(given.term ? { terms: [given.term] } : {}), ...measured };
}

const VIEWS = ["front", "base", "mark", "detail", "inside", "damage"];

function Pictures({ of }: { of: Doc }) {
  const [view, setView] = useState("front");
  const [said, setSaid] = useState("");
  const take = async (files: FileList | null) => {
    setSaid("");
    for (const file of files ?? []) {
      try {
        const sha = await keepPicture(await bare(file), of.id);
        await note({ kind: "picture.taken/1", sub: of.id, body: { view }, att: [sha] });
        setSaid("Picture on this tablet, without place, time or camera in it.");
      } catch (failure) {
        setSaid(`No picture was taken in: ${String(failure instanceof Error ? failure.message : failure)}`);
      }
    }
    await wrote();
  };
  const here = pictures.value.filter((one) => one.object === of.id);
  const left = here.filter((one) => !one.whole).length;
  return (
    <section aria-label="Pictures" class="pictures-taken">
      <Choose name="View" hint="Lay a scale beside it." value={view} set={setView} of={VIEWS.map((value) => ({ value, words: value }))} />
      <label class="file wide">
        Take or choose a picture
        <input type="file" accept="image/*" capture="environment" multiple onChange={(event) => void take(event.currentTarget.files)} />
      </label>
      <p role="status">{said}</p>
      {here.length > 0 && <p class="quiet">{plural(here.length, "picture")} from this tablet{left ? `, ${left} still to send` : ", all at the desk"}.</p>}
    </section>
  );
}
