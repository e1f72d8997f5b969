// A fair brought back on another computer: the code, the medium, one sheet. Nothing that lies there is overwritten.
import { useState } from "preact/hooks";
import { api, type FairOnMedium } from "../api/client";
import { Sending } from "../parts/asking";
import { Choose, Field } from "../parts/fields";
import { when } from "../parts/words";
import { look } from "../session";

export function BringBack() {
  const [code, setCode] = useState("");
  const [place, setPlace] = useState("");
  const [found, setFound] = useState<FairOnMedium[]>();
  const [said, setSaid] = useState("");
  const look_for = async () => {
    setFound(undefined);
    const there = await api.copies_at_set_up({ code: code.trim(), place: place.trim() });
    if (!there.length) throw new Error("No copy of a fair lies there. Put the medium in, or name its folder.");
    setFound(there);
  };
  if (said) return <Back said={said} />;
  return (
    <>
      <Sending run={look_for} submit="Look for copies" legend="Look for copies">
        <p>You need the medium with the copies, and one of the two recovery sheets of 34 words.</p>
        <h3>1. The code, and the medium</h3>
        <Field name="Set-up code" hint="It stands where planish was started." value={code} set={setCode} needed />
        <Field name="Folder of the medium" hint="Left empty, every stick and disk that is plugged in is looked at. Otherwise its whole path, such as /media/stick or D:\." value={place} set={setPlace} />
      </Sending>
      {found && <Open code={code} found={found} then={setSaid} />}
    </>
  );
}

function Open({ code, found, then }: { code: string; found: FairOnMedium[]; then: (said: string) => void }) {
  const all = found.flatMap((fair) => fair.copies.map((copy) => ({ fair, copy })));
  const [at, choose] = useState(0);
  const [words, setWords] = useState("");
  const [head, setHead] = useState("");
  const run = async () => {
    const chosen = all[at];
    if (!chosen) throw new Error("Choose a copy.");
    const back = await api.bring_back({ code: code.trim(), place: chosen.fair.folder, made: chosen.copy.made, words, head: head.trim() });
    then(back.says);
  };
  return (
    <Sending run={run} submit="Bring it back" legend="Bring a fair back">
      <h3>2. Which copy</h3>
      <Choose
        name="Copy"
        hint="The newest, unless it does not open: an older one lacks work that tablets may have let go of."
        value={String(at)}
        set={(value) => choose(Number(value))}
        of={all.map(({ fair, copy }, n) => ({ value: String(n), words: `${fair.name}: ${when(copy.at)}, up to entry ${copy.n}` }))}
      />
      <h3>3. One sheet</h3>
      <Field name="The 34 words of a sheet" hint="In their order, with a space between." value={words} set={setWords} long lines={4} needed />
      <Field name="A head from a day sheet, if you have one" hint="Such as 4711:word word … A copy that contradicts it is refused." value={head} set={setHead} />
      <p>It takes from a few seconds to a few minutes; leave this page open.</p>
    </Sending>
  );
}

function Back({ said }: { said: string }) {
  return (
    <div class="note" role="status">
      <p>
        <strong>The fair is back.</strong> {said}
      </p>
      <p>
        Everybody signs in as before. Then let every tablet connect, and leave it on until it says that nothing is waiting: each hands in again what the copy lacks. The laptop that had the fair before must not be used for it any more.
      </p>
      <p>
        <button type="button" onClick={() => void look()}>
          Go to signing in
        </button>
      </p>
    </div>
  );
}
