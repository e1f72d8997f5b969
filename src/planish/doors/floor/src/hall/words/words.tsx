// Ask for other words. If somebody at the desk changed them meanwhile, both stay and a card asks for a decision.
import { Field } from "../../parts/fields";
import { useTyped } from "../parts/drafts";
import { Frame } from "../parts/frame";
import { Press } from "../parts/press";
import { go, to } from "../go";
import type { Doc } from "../outbox/shapes";
import { note } from "../round/doing";
import { mine } from "../state";
import { docHere, Missing } from "../object/page";

export function WordsPage() {
  const doc = docHere();
  return doc ? <Words of={doc} /> : <Missing />;
}

/** The newest event on these words that this tablet knows: the desk's, or an own one that waits. */
function baseOf(of: Doc): string {
  const own = mine.value.filter((one) => one.sub === of.id && one.kind.startsWith("label.asked") && (one.status === "waiting" || one.n > (of.n ?? 0))).at(-1);
  return own?.id ?? of.bases?.label ?? "";
}

function Words({ of }: { of: Doc }) {
  const [given, set, clear] = useTyped(`words:${of.id}`, { text: of.text, reason: "" });
  const settled = ["agreed", "printed", "checked", "sealed"].includes(of.label_stage);
  const run = async () => {
    if (given.text.trim() === of.text.trim()) throw new Error("These are the words that hang.");
    if (!given.text.trim() || !given.reason.trim()) throw new Error("Give the words, and what about the object asks for them.");
    const body = { version: of.label_version + 1, text: given.text.trim(), reason: given.reason.trim() };
    await note({ kind: "label.asked/1", sub: of.id, base: baseOf(of), body } as Parameters<typeof note>[0]);
    await clear();
    go("object", of.id);
  };
  return (
    <Frame stand={of.stand} title={`Words of No. ${of.number}`} bar={<><Press run={run}>Ask for these words</Press><a class="button plain" href={to("object", of.id)}>Back</a></>}>
      <p class="label-card">{of.text}</p>
      {settled && <p class="warn">Words are agreed already. Asking again is a proposal beside them; a person decides.</p>}
      <Field name="Words to ask for" value={given.text} set={(text) => set({ ...given, text })} long lines={5} />
      <Field name="Why, about the object" value={given.reason} set={(reason) => set({ ...given, reason })} long />
    </Frame>
  );
}
