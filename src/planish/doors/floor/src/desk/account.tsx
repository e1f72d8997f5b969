// One's own passphrase.
import { useState } from "preact/hooks";
import { api } from "../api/client";
import { Sending } from "../parts/asking";
import { Field } from "../parts/fields";
import { look } from "../session";

export function AccountPage() {
  const [old, setOld] = useState("");
  const [next, setNext] = useState("");
  const run = async () => {
    await api.change_passphrase({ old, new: next });
    await look();
  };
  return (
    <>
      <h1>My passphrase</h1>
      <p>Changing it signs you out everywhere; sign in again with the new one.</p>
      <Sending run={run} submit="Change it" legend="Change passphrase">
        <Field name="Present passphrase" kind="password" value={old} set={setOld} complete="current-password" needed />
        <Field name="New passphrase" hint="At least eight characters." kind="password" value={next} set={setNext} complete="new-password" needed />
      </Sending>
    </>
  );
}
