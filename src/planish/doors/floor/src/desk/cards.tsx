// Cards: what came in from tablets and was recorded but not applied, with what stands in its place. Nothing was thrown away.
import { useState } from "preact/hooks";
import { api, type CardClosed, type CardShown } from "../api/client";
import { Act, Shown, useAsked } from "../parts/asking";
import { Field } from "../parts/fields";
import { plain, when } from "../parts/words";
import { to } from "../route";
import { chairs } from "../session";

const WHY: Record<string, string> = {
  stale: "Somebody changed it first.",
  held: "It waits for the chair.",
  denied: "The person had no right to this, or the rules did not allow it.",
};

export function CardsPage() {
  const asked = useAsked(() => api.cards(), []);
  return (
    <>
      <h1>Cards</h1>
      <p class="lead">Work from tablets that is recorded and does not count yet. Both sides are kept; decide what becomes of each.</p>
      <Shown of={asked}>
        {(all) =>
          all.length ? (
            <ul class="cards">
              {all.map((one) => <Card key={one.id} of={one} put={asked.put} />)}
            </ul>
          ) : (
            <p>No card is open.</p>
          )
        }
      </Shown>
    </>
  );
}

function Card({ of, put }: { of: CardShown; put: (all: CardShown[]) => void }) {
  const [note, setNote] = useState("");
  const close = (how: CardClosed["how"]) => async () => put(await api.close_card({ event: of.id }, { how, note }));
  return (
    <li class="card">
      <h2 class="small">
        <a href={to("object", of.sub)}>{of.sub}</a>: {plain(of.kind.replace(/\/\d+$/, "").replace(".", ", "))} <span class="state">no. {of.n}</span>
      </h2>
      <p>
        {WHY[of.status]} {of.why}
      </p>
      {of.late && <p>{of.late}</p>}
      <Words title="Handed in" of={of.yours} />
      {of.stands && <Words title="What stands" of={(of.stands as { fields?: Record<string, unknown> }).fields ?? {}} />}
      <p class="quiet">Handed in {when(of.at)}.</p>
      <Field name="A note, if one is needed" value={note} set={setNote} />
      <p class="row">
        {of.status === "held" && chairs() && <Act run={close("release")}>Let it count</Act>}
        <Act plain run={close("stands")}>What stands, stands</Act>
        <Act plain run={close("beside")}>Keep both beside each other</Act>
        <Act plain run={close("written_again")}>It was written again</Act>
        <Act plain run={close("no_matter")}>Of no matter</Act>
      </p>
    </li>
  );
}

function Words({ title, of }: { title: string; of: Record<string, unknown> }) {
  const told = Object.entries(of).filter(([, value]) => ["string", "number"].includes(typeof value) && value !== "");
  if (!told.length) return null;
  return (
    <p>
      {title}: {told.map(([name, value]) => `${plain(name)} “${String(value)}”`).join("; ")}
    </p>
  );
}
