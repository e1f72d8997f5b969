// A second person: signs at this desk with the own passphrase, or is asked where they are signed in.
import { useState } from "preact/hooks";
import { api, type SecondPerson, type TwoAsked } from "../api/client";
import { Act, Sending } from "./asking";
import { Field } from "./fields";

interface Signing {
  legend: string;
  why: string;
  submit: string;
  run: (second: SecondPerson, reason: string) => Promise<unknown>;
  ask: Omit<TwoAsked, "reason">;
  reason?: boolean;
}

export function TwoSign({ legend, why, submit, run, ask, reason }: Signing) {
  const [person, setPerson] = useState("");
  const [passphrase, setPassphrase] = useState("");
  const [words, setWords] = useState("");
  const send = async () => {
    await run({ person, passphrase }, words);
    setPassphrase("");
  };
  const elsewhere = async () => {
    if (reason && !words.trim()) throw new Error("Say why first.");
    await api.ask_second({ ...ask, reason: words });
  };
  return (
    <Sending run={send} submit={submit} legend={legend}>
      <h3>{legend}</h3>
      <p>{why}</p>
      {reason && <Field name="Why" hint="About the object, not about people." value={words} set={setWords} long needed />}
      <div class="two">
        <Field name="Second person's short name" value={person} set={setPerson} needed />
        <Field name="Second person's passphrase" kind="password" value={passphrase} set={setPassphrase} needed />
      </div>
      <p>
        <Act plain run={elsewhere} done="It waits under Second signatures for half an hour.">
          Ask somebody signed in elsewhere instead
        </Act>
      </p>
    </Sending>
  );
}
