// Cards: own work that the desk recorded and did not apply, with both texts. A person decides; nothing vanishes.
import { computed } from "@preact/signals";
import { closeCard, type Card } from "../outbox/taking";
import { ask, Away } from "../outbox/wire";
import { Press } from "../parts/press";
import { docs, who, wrote } from "../state";
import { did } from "../parts/words";
import { numberOf } from "../round/standing";

const WHY: Record<string, string> = {
  stale: "Somebody changed it first. Both are kept; a person decides at the desk.",
  held: "It waits for the chair.",
  denied: "It was not for this person or this place. It is recorded, and not applied.",
};

export function Cards({ of }: { of: Card[] }) {
  return (
    <section aria-labelledby="cards">
      <h2 id="cards">Cards for you</h2>
      <ul class="cards">
        {of.map((one) => (
          <li key={one.id} class="card">
            <p><strong>{at(one.sub)}</strong>, {did(one.kind)}, no. {one.n}</p>
            <p>{WHY[one.status] ?? one.why}</p>
            <Fields title="Yours" of={one.yours} />
            {one.stands && <Fields title="What stands" of={one.stands.fields} />}
            {!one.closed && mayClose.value && <Close of={one} />}
            {one.closed && <p>Decided: {one.closed.replace(/_/g, " ")}.</p>}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** As at the desk: chair, deputy, office and leaders say what becomes of a card. The desk asks again whether they may. */
const mayClose = computed(() => who.value?.roles.some((one) => ["chair", "deputy", "office", "leader"].includes(one)) ?? false);
const WAYS = { stands: "What stands, stands", beside: "Keep both beside each other", no_matter: "Of no matter" };

function Close({ of }: { of: Card }) {
  const close = (how: string) => async () => {
    try {
      await ask(`cards/${encodeURIComponent(of.id)}`, { body: { how } });
    } catch (failure) {
      if (failure instanceof Away) throw new Error("The desk does not answer. A card is decided there: try again near its network.");
      throw failure;
    }
    await closeCard(of.id, how);
    await wrote();
  };
  return (
    <div class="stack">
      {Object.entries(WAYS).map(([how, words]) => (
        <Press key={how} wide plain run={close(how)}>{words}</Press>
      ))}
    </div>
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
