// What is done with a copy: tried with a sheet, or opened again in a new folder.
import { useState } from "preact/hooks";
import { api } from "../api/client";
import { Sending } from "../parts/asking";
import { Choose, Field } from "../parts/fields";
import { when } from "../parts/words";
import type { Kept } from "./record";

const WORDS = "In their order, with a space between. They are not kept.";

export function TryCopy({ of, put }: Kept) {
  const [words, setWords] = useState("");
  const place = of.media.find((one) => one.place === of.place && one.copies.length)?.place ?? of.media.find((one) => one.copies.length)?.place;
  if (!place) return null;
  const run = async () => {
    put(await api.try_backup({ place, words }));
    setWords("");
  };
  return (
    <section aria-labelledby="trial">
      <h2 id="trial">Try a copy</h2>
      <p>Opens the newest copy with a sheet, reads all of it, and throws it away. Nothing changes. A copy that nobody ever opened is a hope.</p>
      <Sending run={run} submit="Open it and read all of it" legend="Try a copy">
        <Field name="The 34 words of a sheet" hint={WORDS} value={words} set={setWords} long lines={4} needed />
      </Sending>
    </section>
  );
}

export function OpenCopy({ of, put }: Kept) {
  const all = of.media.flatMap((one) => one.copies.map((copy) => ({ place: one.place, ...copy })));
  const [chosen, choose] = useState(0);
  const [words, setWords] = useState("");
  const copy = all[chosen];
  const run = async () => {
    if (!copy) throw new Error("Put the medium in first.");
    put(await api.open_copy({ place: copy.place, made: copy.made, words }));
    setWords("");
  };
  return (
    <section aria-labelledby="open">
      <h2 id="open">Open a copy again</h2>
      <p>
        <strong>When this laptop is gone:</strong> start planish on any other computer with a new folder (<code>planish serve --fair new-folder</code>), choose <em>Bring a fair back</em> on its first page, and have the medium and one sheet at
        hand.
      </p>
      <p>
        <strong>When this log is broken, or you want to look at an earlier state:</strong> open a copy here in a new folder. Nothing is overwritten: the fair that is open now stays as it is, and the copy lies beside it.
      </p>
      {copy && (
        <details>
          <summary>Open a copy in a new folder</summary>
          <Sending run={run} submit="Open it in a new folder" legend="Open a copy">
            <h3>1. Which copy</h3>
            <Choose
              name="Copy"
              hint="The newest, unless it does not open. An older one lacks work that tablets may have let go of."
              value={String(chosen)}
              set={(value) => choose(Number(value))}
              of={all.map((one, n) => ({ value: String(n), words: `${when(one.at)}, up to entry ${one.n}, on ${one.place}` }))}
            />
            <h3>2. One recovery sheet</h3>
            <Field name="The 34 words of the sheet" hint={WORDS} value={words} set={setWords} long lines={4} needed />
            <h3>3. Then</h3>
            <p>
              The page says where the new folder lies. Texts that were deleted since are deleted again before it opens. To work with it, end planish and start it with that folder; the log then begins a new epoch, and every tablet hands in again what the copy
              lacks. Leave every tablet on until it says that nothing is waiting. Never let two desks of one fair work at once.
            </p>
          </Sending>
        </details>
      )}
    </section>
  );
}
