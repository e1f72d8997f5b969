// Open questions, answered where they stand.
import { useState } from "preact/hooks";
import { api, type QuestionShown } from "../api/client";
import { Act, Sending, Shown, useAsked } from "../parts/asking";
import { Field } from "../parts/fields";
import { to } from "../route";
import { has, me, office } from "../session";

export function QuestionsPage() {
  const found = useAsked(() => api.questions(), []);
  return (
    <>
      <h1>Questions</h1>
      <Shown of={found}>
        {(all) => (all.length ? <ul class="cards">{all.map((one) => <Question key={one.number} of={one} then={found.again} />)}</ul> : <p>No question is open.</p>)}
      </Shown>
    </>
  );
}

export function Question({ of, then, mine }: { of: QuestionShown; then: () => Promise<void>; mine?: boolean }) {
  const may = mine || office() || has(of.to) || me.value?.id === of.to;
  return (
    <li class="card">
      <p>
        {mine ? <span>About one of your objects</span> : <a href={to("object", of.object)}>Stand {of.stand}: {of.object}</a>}{" "}
        {!mine && <span class="quiet">to the {of.to}</span>}
      </p>
      <p class="as-written">{of.words}</p>
      {may && <Answering of={of} then={then} />}
    </li>
  );
}

function Answering({ of, then }: { of: QuestionShown; then: () => Promise<void> }) {
  const [said, setSaid] = useState("");
  const answer = async (words: string) => {
    await api.answer_question({ number: of.number }, { said: words });
    await then();
  };
  if (of.kind === "renumbered") {
    return (
      <p class="row">
        <Act run={() => answer("same")}>The same object</Act>
        <Act plain run={() => answer("new")}>Another object</Act>
      </p>
    );
  }
  return (
    <Sending run={() => answer(said)} submit="Answer" legend={`Answer question ${of.number}`}>
      <Field name="Your answer" value={said} set={setSaid} long needed />
    </Sending>
  );
}
