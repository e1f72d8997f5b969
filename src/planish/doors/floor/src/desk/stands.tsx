// Stands: who has them, how much is listed, cards, and the way in for a list.
import { useState } from "preact/hooks";
import { api, type SecretOnce, type StandShown } from "../api/client";
import { Act, Sending, Shown, useAsked } from "../parts/asking";
import { Field } from "../parts/fields";
import { Once } from "../parts/once";
import { Table } from "../parts/table";
import { go, to } from "../route";
import { has, office } from "../session";

export function StandsPage() {
  const stands = useAsked(() => api.stands(), []);
  const [once, setOnce] = useState<SecretOnce>();
  return (
    <>
      <h1>Stands and lists</h1>
      {office() && <AddStand then={stands.again} />}
      <Once of={once} what="Card code" />
      <Shown of={stands}>
        {(found) => (
          <Table
            caption={`${found.length} stands`}
            heads={["Stand", "Exhibitor", "Objects", "Do"]}
            rows={found.map((one) => [
              <strong class="stand">{one.number || one.id}</strong>,
              <>
                {one.exhibitor}
                {one.zone && <span class="quiet"> · {one.zone}</span>}
              </>,
              <a href={to("objects", "", { stand: one.id })} aria-label={`${one.objects} objects of stand ${one.id}`}>
                {one.objects} objects
              </a>,
              <Doings of={one} told={setOnce} then={stands.again} />,
            ])}
          />
        )}
      </Shown>
    </>
  );
}

function Doings({ of, told, then }: { of: StandShown; told: (once: SecretOnce) => void; then: () => Promise<void> }) {
  const card = async () => {
    told(await api.new_card({ stand: of.id }));
    window.scrollTo(0, 0);
    await then();
  };
  return (
    <span class="row">
      {(office() || has("leader")) && <SendList stand={of.id} />}
      {office() && (
        <Act plain run={card} label={`Make a card for stand ${of.id}`}>
          {of.has_card ? "New card" : "Make a card"}
        </Act>
      )}
    </span>
  );
}

export function SendList({ stand }: { stand: string }) {
  const [problem, setProblem] = useState("");
  const send = async (file: File | undefined) => {
    if (!file) return;
    try {
      const made = await api.send_list({ stand, name: file.name }, file);
      go("list", made.id);
    } catch (failure) {
      setProblem(String(failure instanceof Error ? failure.message : failure));
    }
  };
  return (
    <label class="file plain">
      Take a list in<span class="aloud"> for stand {stand}</span>
      <input type="file" accept=".xlsx,.xls,.ods,.csv,.tsv,.txt,.json" onChange={(event) => void send(event.currentTarget.files?.[0])} />
      {problem && <span role="alert">{problem}</span>}
    </label>
  );
}

function AddStand({ then }: { then: () => Promise<void> }) {
  const [given, set] = useState({ id: "", zone: "", exhibitor: "" });
  const run = async () => {
    await api.add_stand({ ...given, number: given.id });
    set({ id: "", zone: "", exhibitor: "" });
    await then();
  };
  return (
    <section aria-labelledby="add">
      <h2 id="add">Add a stand</h2>
      <Sending run={run} submit="Add the stand" done="Added." legend="Add a stand">
        <div class="three">
          <Field name="Stand number" value={given.id} set={(id) => set({ ...given, id })} needed />
          <Field name="Exhibitor" value={given.exhibitor} set={(exhibitor) => set({ ...given, exhibitor })} needed />
          <Field name="Zone or aisle" value={given.zone} set={(zone) => set({ ...given, zone })} />
        </div>
      </Sending>
    </section>
  );
}
