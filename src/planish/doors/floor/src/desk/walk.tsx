// Set-up as a walk: what is done, what comes next, and where.
import type { ComponentChildren } from "preact";
import { api } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { day } from "../parts/words";
import { to } from "../route";

export function WalkPage() {
  const asked = useAsked(async () => {
    const [fair, people, panels, stands] = await Promise.all([api.fair(), api.people(), api.panels(), api.stands()]);
    return { fair, people, panels, stands, keys: await api.keys(), record: await api.record() };
  }, []);
  return (
    <>
      <h1>Set up</h1>
      <p class="lead">Seven steps. Come back here after each; what is done is ticked off by itself.</p>
      <Shown of={asked}>
        {({ fair, people, panels, stands, keys, record }) => {
          const judges = people.filter((one) => one.roles.some((role) => role === "member" || role === "leader"));
          return (
            <ol class="steps">
              <Step done name="The fair and its rules" page="rules" act="Read the rules and compare them">
                {fair.name}, rule book {fair.rulebook} {fair.rulebook_version}
                {fair.opens && `, opens ${day(fair.opens)}`}
              </Step>
              <Step done={judges.length > 0} name="People" page="people" act="Add people">
                {people.length === 1 ? "1 person" : `${people.length} people`}, {judges.length} of them judge
              </Step>
              <Step done={panels.length > 0} name="Panels" page="panels" act="Form a panel">
                {panels.length === 0 ? "None yet: a panel is who sits together, and who leads" : panels.map((one) => one.id).join(", ")}
              </Step>
              <Step done={stands.length > 0} name="Stands" page="stands" act="Add stands and give out cards">
                {stands.length} stands
              </Step>
              <Step done={keys.tried.length > 0 && keys.tried.every(Boolean)} name="Keys" page="seals" act="Make the keys and try both sheets">
                {keys.made ? (keys.tried.every(Boolean) ? "Made, both sheets tried" : "Made; type both recovery sheets back once") : "Not made: labels cannot be sealed, and ballots lie readable on this computer"}
              </Step>
              <Step done={fair.objects > 0} name="Stand lists" page="stands" act="Take lists in">
                {fair.objects} objects listed
              </Step>
              <Step done={record.last !== null && record.counts} name="A copy elsewhere" page="record" act="Make a first copy on a stick">
                {record.last ? (record.counts ? "A copy lies on a second medium, and is repeated every five minutes" : "A copy lies on this computer's own disk: when that fails, both are gone") : "None yet: everything is on this one computer"}
              </Step>
            </ol>
          );
        }}
      </Shown>
    </>
  );
}

function Step(of: { done?: boolean; name: string; page: string; act: string; children: ComponentChildren }) {
  return (
    <li class={of.done ? "done" : ""}>
      <h2>
        {of.name} <span class="state">{of.done ? "done" : "to do"}</span>
      </h2>
      <p>{of.children}.</p>
      <p>
        <a class="button" href={to(of.page)}>
          {of.act}
        </a>
      </p>
    </li>
  );
}
