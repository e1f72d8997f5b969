// Cards: own work that the desk recorded and did not apply, with both texts. A person decides; nothing vanishes.
import type { Card } from "../outbox/taking";
import { docs } from "../state";
import { did } from "../parts/words";
import { numberOf } from "../round/standing";

const WHY: Record<string, string> = {
  stale: "Somebody changed it first. Both are kept; a person decides at the desk.",
  held: "It waits for the chair.",
  denied: "Recorded, not applied.",
};

export function Cards({ of }: { of: Card[] }) {
  return (
    <section aria-labelledby="cards">
      <h2 id="cards">Cards for you</h2>
      <ul class="cards">
        {of.map((one) => (
          <li key={one.id} class="card">
            <p><strong>{at(one.sub)}</strong>, {did(one.kind)}, no. {one.n}</p>
            <p>{WHY[one.status] ?? ""} {one.why}</p>
            <Fields title="Yours" of={one.yours} />
            {one.stands && <Fields title="What stands" of={one.stands.fields} />}
            {one.closed && <p>Decided: {one.closed.replace(/_/g, " ")}.</p>}
          </li>
        ))}
      </ul>
    </section>
  );
}

function at(sub: string): string {
  const doc = docs.value.get(sub);
  return doc ? `Stand ${numberOf(doc.stand)}, No. ${doc.number}` : sub;
}

function Fields({ title, of }: { title: string; of: Record<string, unknown> }) {
  const told = Object.entries(of ?? {}).filter(([name, value]) => typeof value === "string" && value && ["text", "reason", "outcome", "words"].includes(name));
  if (!told.length) return null;
  return <p>{title}: {told.map(([, value]) => `“${String(value)}”`).join(" ")}</p>;
}
