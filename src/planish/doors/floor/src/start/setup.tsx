// The first start: a fair, its rule book, its chair.
import { useState } from "preact/hooks";
import { api } from "../api/client";
import { Sending, Shown, useAsked } from "../parts/asking";
import { Choose, Field } from "../parts/fields";
import { go } from "../route";
import { look } from "../session";
import { BringBack } from "./back";

export function SetUpPage() {
  const now = useAsked(() => api.set_up_now(), []);
  return (
    <>
      <h1>Make a fair</h1>
      <p class="lead">
        Three things first: the code from the terminal, the fair, and you as its chair. Then come people, stands and lists, one
        step after another.
      </p>
      {now.value && !now.value.fair_begun && (
        <details>
          <summary>Bring a fair back from a copy instead</summary>
          <BringBack />
        </details>
      )}
      <Shown of={now}>
        {(found) => <SetUpForm books={found.rulebooks.map((b) => ({ value: b.id, words: `${b.fair} (${b.version}); ${b.quorum} who judge are a quorum` }))} begun={found.fair_begun} />}
      </Shown>
    </>
  );
}

function SetUpForm({ books, begun }: { books: { value: string; words: string }[]; begun: boolean }) {
  const [given, set] = useState({ code: "", rules: books[0]?.value ?? "", name: "", opens: "", chair: "", chair_name: "", passphrase: "" });
  const put = (field: keyof typeof given) => (value: string) => set({ ...given, [field]: value });
  const run = async () => {
    await api.set_up({ ...given, code: given.code.trim() });
    await look();
    go("walk");
  };
  return (
    <Sending run={run} submit="Make the fair" legend="Make a fair">
      <h2>1. The code</h2>
      <Field name="Set-up code" hint="It stands where planish was started. It works once." value={given.code} set={put("code")} needed />
      <h2>2. The fair</h2>
      {!begun && (
        <>
          <Choose name="Rule book to begin with" hint="An example that you can read and compare on the next pages. A panel smaller than its quorum can settle nothing." value={given.rules} set={put("rules")} of={books} />
          <Field name="Name of the fair" hint="Left empty, it is called as in the rule book." value={given.name} set={put("name")} />
          <Field name="Opening day" kind="date" value={given.opens} set={put("opens")} />
        </>
      )}
      <h2>3. You, the chair</h2>
      <Field name="Your name" value={given.chair_name} set={put("chair_name")} complete="name" needed />
      <Field name="Short name to sign in with" hint="Such as ada. It stays as it is." value={given.chair} set={put("chair")} complete="username" needed />
      <Field name="Passphrase" hint="At least eight characters; four plain words are good." kind="password" value={given.passphrase} set={put("passphrase")} complete="new-password" needed />
    </Sending>
  );
}
