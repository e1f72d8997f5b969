// A second person, who signs at this desk with the own passphrase.
import { useState } from "preact/hooks";
import type { SecondPerson } from "../api/client";
import { Sending } from "./asking";
import { Field } from "./fields";

interface Signing {
  legend: string;
  why: string;
  submit: string;
  run: (second: SecondPerson, reason: string) => Promise<unknown>;
  reason?: boolean;
}

export function TwoSign({ legend, why, submit, run, reason }: Signing) {
  const [person, setPerson] = useState("");
  const [passphrase, setPassphrase] = useState("");
  const [words, setWords] = useState("");
  const send = async () => {
    await run({ person, passphrase }, words);
    setPassphrase("");
  };
  return (
    <Sending run={send} submit={submit} legend={legend}>
      <p>{why}</p>
      {reason && <Field name="Why" hint="About the object, not about people." value={words} set={setWords} long needed />}
      <div class="two">
        <Field name="Second person's short name" value={person} set={setPerson} needed />
        <Field name="Second person's passphrase" kind="password" value={passphrase} set={setPassphrase} needed />
      </div>
    </Sending>
  );
}
