// Panels: who sits together, who leads, for which disciplines.
import { useState } from "preact/hooks";
import { api, type PanelShown, type PersonShown } from "../api/client";
import { Sending, Shown, useAsked } from "../parts/asking";
import { Choose, Field, SomeOf } from "../parts/fields";
import { Table } from "../parts/table";
import { chairs, office } from "../session";

export function PanelsPage() {
  const panels = useAsked(() => api.panels(), []);
  const people = useAsked(async () => (office() ? await api.people() : []), []);
  const fair = useAsked(() => api.fair(), []);
  const small = (all: PanelShown[]) => all.filter((one) => fair.value !== undefined && one.members.length < fair.value.quorum);
  const named = (id: string) => people.value?.find((one) => one.id === id)?.name ?? id;
  return (
    <>
      <h1>Panels</h1>
      {chairs() && <FormPanel then={panels.again} />}
      <Shown of={panels}>
        {(found) =>
          found.length ? (
            <>
            {small(found).map((one) => (
              <p class="note" key={one.id}>
                Panel {one.id} has {one.members.length}; the rule book asks for a quorum of {fair.value?.quorum}. It can settle nothing until more sit.
              </p>
            ))}
            <Table
              caption="Who sits together"
              heads={["Panel", "Leads", "Sit", "For"]}
              rows={found.map((one) => [one.id, one.leader ? named(one.leader) : "—", one.members.map(named).join(", "), one.disciplines.join(", ") || "every discipline"])}
            />
            </>
          ) : (
            <p>No panel yet.</p>
          )
        }
      </Shown>
    </>
  );
}

function FormPanel({ then }: { then: () => Promise<void> }) {
  const asked = useAsked(async () => ({ people: office() ? await api.people() : [], fair: await api.fair() }), []);
  return (
    <section aria-labelledby="form">
      <h2 id="form">Form a panel, or form it anew</h2>
      <Shown of={asked}>{({ people, fair }) => <PanelForm people={people} disciplines={fair.disciplines} then={then} />}</Shown>
    </section>
  );
}

const judges = (person: PersonShown) => person.roles.some((role) => role === "member" || role === "leader");

function PanelForm({ people, disciplines, then }: { people: PersonShown[]; disciplines: string[]; then: () => Promise<void> }) {
  const [panel, setPanel] = useState("");
  const [members, setMembers] = useState<string[]>([]);
  const [leader, setLeader] = useState("");
  const [known, setKnown] = useState<string[]>([]);
  const sitting = people.filter(judges);
  if (!sitting.length) return <p>Nobody judges yet. Add people with the role member or leader first.</p>;
  const run = async () => {
    await api.form_panel({ panel }, { members, leader: leader || null, disciplines: known });
    await then();
  };
  return (
    <Sending run={run} submit="Form the panel" done="Formed." legend="Form a panel">
      <Field name="Name of the panel" hint="Such as metalware." value={panel} set={setPanel} needed />
      <SomeOf legend="Who sits" values={members} set={setMembers} of={sitting.map((one) => ({ value: one.id, words: one.name }))} />
      <Choose
        name="Who leads"
        value={leader}
        set={setLeader}
        of={[{ value: "", words: "nobody yet" }, ...sitting.filter((one) => members.includes(one.id)).map((one) => ({ value: one.id, words: one.name }))]}
      />
      {disciplines.length > 0 && (
        <SomeOf legend="For" values={known} set={setKnown} of={disciplines.map((one) => ({ value: one, words: one }))} />
      )}
    </Sending>
  );
}
