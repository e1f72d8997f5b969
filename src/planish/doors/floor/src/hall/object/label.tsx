// The label as it hangs, underlined by kind; each word in question is also a large button below, in the label's order.
import { useState } from "preact/hooks";
import type { ClaimShown } from "../../api/client";
import { FactLines } from "../../parts/facts";
import { pieces } from "../../parts/label";
import { bare, plain, URGENCY } from "../../parts/words";
import type { Doc } from "../outbox/shapes";

const troubleOf = (of: Doc) => new Set([...of.faults, ...of.clashes].flatMap((one) => one.claims));

export function Label({ of }: { of: Doc }) {
  const [chosen, choose] = useState("");
  const trouble = troubleOf(of);
  const asked = of.claims.filter((one) => trouble.has(one.id)).sort((a, b) => a.start - b.start);
  const picked = of.claims.find((one) => one.id === chosen);
  const turn = (id: string) => choose(chosen === id ? "" : id);
  return (
    <section aria-label="The label as it hangs">
      <p class="label-card">
        {pieces(of.text, of.claims, of.unread).map((piece) => {
          const words = of.text.slice(piece.start, piece.end);
          const first = piece.claims.find((one) => trouble.has(one.id)) ?? piece.claims[0];
          if (!first || !words.trim()) return piece.unread ? <span class="word kind-unread">{words}</span> : words;
          return (
            <span
              key={piece.start}
              role="button"
              tabIndex={0}
              aria-pressed={chosen === first.id}
              aria-label={`${words.trim()}: ${plain(first.side)}${trouble.has(first.id) ? ", in question" : ""}`}
              class={`word kind-${first.side} ${trouble.has(first.id) ? "trouble" : ""}`}
              onClick={() => turn(first.id)}
              onKeyDown={(event) => {
                if (event.key !== "Enter" && event.key !== " ") return;
                event.preventDefault();
                turn(first.id);
              }}
            >
              {words}
            </span>
          );
        })}
      </p>
      <div class="asked">
        {asked.map((one) => (
          <div key={one.id}>
            <button type="button" class="plain wide" aria-expanded={chosen === one.id} onClick={() => turn(one.id)}>
              “{one.words}” <span class="quiet">{plain(one.side)}, in question</span>
            </button>
            {chosen === one.id && <Bears on={one} of={of} />}
          </div>
        ))}
      </div>
      {picked && !asked.includes(picked) && <div aria-live="polite"><Bears on={picked} of={of} /></div>}
      {of.faults.filter((one) => !one.claims.length).map((one, n) => <p key={n}><strong>{URGENCY[one.severity]}</strong>: {bare(one.sentence)}</p>)}
      {!of.faults.length && !of.clashes.length && <p class="quiet">Nothing on file bears against these words.</p>}
    </section>
  );
}

function Bears({ on, of }: { on: ClaimShown; of: Doc }) {
  const faults = of.faults.filter((one) => one.claims.includes(on.id));
  const clashes = of.clashes.filter((one) => one.claims.includes(on.id));
  return (
    <div class="claim">
      <p><strong>{on.words}</strong>: {on.says}</p>
      {!faults.length && !clashes.length && <p class="quiet">Nothing on file bears against it.</p>}
      {clashes.map((one) => (
        <div key={one.id}>
          <p>{bare(one.sentence)}</p>
          <FactLines of={one.facts} linked={false} />
        </div>
      ))}
      {faults.map((one, n) => (
        <div key={n}>
          <p><span class={`urgency urgency-${one.severity}`}>{URGENCY[one.severity]}</span>: {bare(one.sentence)}</p>
          {one.remedy && <p>{one.remedy}</p>}
          {one.clause && <p class="quiet">Clause {one.clause}: {one.clause_text}</p>}
          <FactLines of={one.facts} linked={false} />
        </div>
      ))}
    </div>
  );
}
