// People: roles, what each knows, conflicts, and a passphrase told once.
import { useState } from "preact/hooks";
import { api, type NewPerson, type PersonShown, type RoleGiven, type SecretOnce } from "../api/client";
import { Act, Sending, Shown, useAsked } from "../parts/asking";
import { Choose, Field, SomeOf } from "../parts/fields";
import { Once } from "../parts/once";
import { ROLES } from "../parts/words";
import { chairs, me } from "../session";

type Role = RoleGiven["role"];
const roleChoices = ROLES.map((role) => ({ value: role, words: role }));

export function PeoplePage() {
  const people = useAsked(() => api.people(), []);
  const fair = useAsked(() => api.fair(), []);
  return (
    <>
      <h1>People</h1>
      {chairs() && <AddPerson disciplines={fair.value?.disciplines ?? []} then={people.again} />}
      <Shown of={people}>
        {(found) => (
          <ul class="cards pairs">
            {found.map((one) => (
              <PersonCard key={one.id} of={one} then={people.again} />
            ))}
          </ul>
        )}
      </Shown>
    </>
  );
}

function AddPerson({ disciplines, then }: { disciplines: string[]; then: () => Promise<void> }) {
  const empty: NewPerson & { roles: Role[]; disciplines: string[] } = { id: "", name: "", roles: ["member"], disciplines: [] };
  const [given, set] = useState(empty);
  const [once, setOnce] = useState<SecretOnce>();
  const run = async () => {
    const made = await api.add_person(given);
    setOnce(await api.new_passphrase({ person: made.id }));
    set(empty);
    await then();
  };
  return (
    <section aria-labelledby="add">
      <h2 id="add">Add somebody</h2>
      <Sending run={run} submit="Add" done="Added." legend="Add somebody">
        <div class="two">
          <Field name="Name" value={given.name} set={(name) => set({ ...given, name })} needed />
          <Field name="Short name to sign in with" value={given.id} set={(id) => set({ ...given, id })} needed />
        </div>
        <SomeOf legend="Roles" values={given.roles} set={(roles) => set({ ...given, roles: roles as Role[] })} of={roleChoices} />
        {disciplines.length > 0 && (
          <SomeOf
            legend="Knows"
            values={given.disciplines}
            set={(known) => set({ ...given, disciplines: known })}
            of={disciplines.map((one) => ({ value: one, words: one }))}
          />
        )}
      </Sending>
      <Once of={once} what="Passphrase" />
    </section>
  );
}

function PersonCard({ of, then }: { of: PersonShown; then: () => Promise<void> }) {
  const [once, setOnce] = useState<SecretOnce>();
  const mine = of.id === me.value?.id;
  return (
    <li class="card">
      <h3>
        {of.name} <span class="quiet">({of.id})</span>
      </h3>
      <p>
        {of.roles.join(", ") || "no role"}
        {of.disciplines.length > 0 && <span class="quiet"> · knows {of.disciplines.join(", ")}</span>}
      </p>
      {of.conflicts.length + of.object_conflicts.length > 0 && (
        <p>Does not judge: {[...of.conflicts.map((stand) => `stand ${stand}`), ...of.object_conflicts].join(", ")}.</p>
      )}
      {!of.signs_in && <p class="quiet">Cannot sign in yet.</p>}
      {(chairs() || mine) && (
        <details>
          <summary>Roles, conflicts, passphrase</summary>
          {chairs() && <Roles of={of} then={then} />}
          <Conflict of={of} then={then} />
          {!mine && (
            <Act plain run={async () => setOnce(await api.new_passphrase({ person: of.id }))}>
              Make a new passphrase for {of.name}
            </Act>
          )}
          <Once of={once} what="Passphrase" />
        </details>
      )}
    </li>
  );
}

function Roles({ of, then }: { of: PersonShown; then: () => Promise<void> }) {
  const [role, setRole] = useState<string>("member");
  const give = async () => {
    await api.give_role({ person: of.id }, { role: role as Role });
    await then();
  };
  return (
    <>
      <ul class="plain-list">
        {of.roles.map((one) => (
          <li key={one}>
            {one}{" "}
            <Act
              plain
              label={`Take the role ${one} from ${of.name}`}
              run={async () => {
                await api.withdraw_role({ person: of.id, role: one as Role });
                await then();
              }}
            >
              Take away
            </Act>
          </li>
        ))}
      </ul>
      <Sending run={give} submit="Give this role" legend={`Give ${of.name} a role`}>
        <Choose name="Role" value={role} set={setRole} of={roleChoices} />
      </Sending>
    </>
  );
}

function Conflict({ of, then }: { of: PersonShown; then: () => Promise<void> }) {
  const [stand, setStand] = useState("");
  const [reason, setReason] = useState("");
  const run = async () => {
    await api.declare_conflict({ person: of.id }, { stand, reason });
    setStand("");
    setReason("");
    await then();
  };
  return (
    <Sending run={run} submit="Note the conflict" done="Noted." legend={`Conflict of ${of.name}`}>
      <Field name="Does not judge stand" hint="The stand's number." value={stand} set={setStand} needed />
      <Field name="Reason" hint="Read by the chair only." value={reason} set={setReason} />
    </Sending>
  );
}
