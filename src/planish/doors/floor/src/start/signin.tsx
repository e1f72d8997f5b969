// Two doors: people of the fair, and exhibitors with the card of their stand.
import { useState } from "preact/hooks";
import { api } from "../api/client";
import { Sending } from "../parts/asking";
import { Field } from "../parts/fields";
import { look } from "../session";

export function SignInPage() {
  return (
    <>
      <h1>Sign in</h1>
      <div class="two">
        <section aria-labelledby="people">
          <h2 id="people">People of the fair</h2>
          <ByPassphrase />
        </section>
        <section aria-labelledby="stands">
          <h2 id="stands">Exhibitors</h2>
          <ByCard />
        </section>
      </div>
    </>
  );
}

function ByPassphrase() {
  const [person, setPerson] = useState("");
  const [passphrase, setPassphrase] = useState("");
  const run = async () => {
    await api.sign_in({ person, passphrase });
    await look();
  };
  return (
    <Sending run={run} submit="Sign in" legend="Sign in with a passphrase">
      <Field name="Short name" hint="As the chair gave it to you, such as ada." value={person} set={setPerson} complete="username" needed />
      <Field name="Passphrase" kind="password" value={passphrase} set={setPassphrase} complete="current-password" needed />
    </Sending>
  );
}

function ByCard() {
  const [code, setCode] = useState("");
  const run = async () => {
    await api.sign_in_with_card({ code: code.trim() });
    await look();
  };
  return (
    <Sending run={run} submit="Open my stand" legend="Sign in with a card">
      <Field name="Code on your card" hint="The office gave it to you, such as 7:ABCD-EFGH." value={code} set={setCode} needed />
    </Sending>
  );
}
