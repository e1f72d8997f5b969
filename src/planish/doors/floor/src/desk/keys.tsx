// The fair's keys: made once, two sheets of words into two envelopes, unlocked for the day.
import { useState } from "preact/hooks";
import { api, type KeysShown, type SheetsOnce } from "../api/client";
import { Act, Sending } from "../parts/asking";
import { Field } from "../parts/fields";
import { chairs, office } from "../session";

interface Keys {
  of: KeysShown;
  then: () => Promise<void>;
}

export function TheKeys({ of, then }: Keys) {
  const [sheets, setSheets] = useState<SheetsOnce>();
  return (
    <section aria-labelledby="keys">
      <h2 id="keys">
        The fair's keys <span class="state">{standing(of)}</span>
      </h2>
      {sheets && !of.tried.every(Boolean) && <Sheets of={sheets} />}
      {!of.made && <Make then={async (made) => { setSheets(made); await then(); }} />}
      {of.made && !of.tried.every(Boolean) && <TrySheets of={of} then={then} />}
      {of.made && of.tried.every(Boolean) && <Unlock of={of} then={then} />}
    </section>
  );
}

function standing(of: KeysShown): string {
  if (!of.made) return "not made yet";
  if (!of.tried.every(Boolean)) return "sheets not tried yet";
  return of.unlocked ? "unlocked" : "locked";
}

function Make({ then }: { then: (sheets: SheetsOnce) => Promise<void> }) {
  const [words, setWords] = useState("");
  const [again, setAgain] = useState("");
  if (!chairs()) return <p>Ask the chair to make them.</p>;
  const run = async () => {
    if (words !== again) throw new Error("The two are not the same.");
    await then(await api.make_keys({ passphrase: words }));
  };
  return (
    <Sending run={run} submit="Make the keys" legend="Make the keys">
      <p>
        With them labels are sealed, backups are encrypted, and ballots lie covered on the disk. You get two sheets of words: print
        them, and lock them away apart from each other. A lost passphrase and a lost sheet 1 together cannot be made good.
      </p>
      <div class="two">
        <Field name="Passphrase of the keys" hint="At least twelve characters: four or five plain words." kind="password" value={words} set={setWords} complete="new-password" needed />
        <Field name="The same again" kind="password" value={again} set={setAgain} complete="new-password" needed />
      </div>
    </Sending>
  );
}

function Sheets({ of }: { of: SheetsOnce }) {
  return (
    <div class="note once sheets" role="status">
      <p>
        <strong>Print this page now.</strong> The words are shown this once and kept nowhere.
      </p>
      {of.sheets.map((one) => (
        <section key={one.number} aria-label={`Sheet ${one.number}`} class="sheet">
          <h3>Sheet {one.number}</h3>
          <p>{one.about}</p>
          <ol class="words34">
            {one.words.map((word, n) => (
              <li key={n}>{word}</li>
            ))}
          </ol>
          <p class="quiet">Key {of.id}</p>
        </section>
      ))}
      <p>
        <button type="button" onClick={() => print()}>
          Print both sheets
        </button>
      </p>
    </div>
  );
}

function TrySheets({ of, then }: Keys) {
  const [words, setWords] = useState("");
  if (!chairs()) return <p>The chair types both recovery sheets back once; until then nothing can be sealed.</p>;
  const run = async () => {
    await api.try_sheet({ words });
    setWords("");
    await then();
  };
  return (
    <Sending run={run} submit="Try this sheet" legend="Try a recovery sheet">
      <p>
        Type each sheet back from its paper, once: a sheet that was never tried is a hope, not a key.{" "}
        {of.tried.map((tried, n) => `Sheet ${n + 1} ${tried ? "opens" : "is not tried"}.`).join(" ")}
      </p>
      <Field name="The 34 words of a sheet" hint="In their order, with a space between." value={words} set={setWords} long lines={4} needed />
    </Sending>
  );
}

function Unlock({ of, then }: Keys) {
  const [words, setWords] = useState("");
  if (!office()) return <p>{of.unlocked ? "Labels can be sealed." : "The office unlocks them; until then nothing can be sealed."}</p>;
  if (of.unlocked) {
    return (
      <>
        <p>Labels can be sealed{of.ballots !== "readable" && " and ballots counted"} until planish is closed or the keys are locked.</p>
        <Act plain run={async () => { await api.lock_keys(); await then(); }}>
          Lock them
        </Act>
      </>
    );
  }
  const run = async () => {
    await api.unlock_keys({ passphrase: words });
    setWords("");
    await then();
  };
  return (
    <Sending run={run} submit="Unlock the keys" legend="Unlock the keys">
      {of.ballots === "covered" && <p>Ballots are taken in and lie covered; they are counted once the keys are unlocked.</p>}
      <Field name="Passphrase of the keys" kind="password" value={words} set={setWords} complete="off" needed />
    </Sending>
  );
}
