// The label as it hangs, with the words underlined by kind. A word is tapped and says what it claims.
import { useState } from "preact/hooks";
import type { ClaimShown, UnreadShown } from "../api/client";
import type { ComponentChildren } from "preact";
import { plain } from "./words";

interface Piece {
  start: number;
  end: number;
  claims: ClaimShown[];
  unread: boolean;
}

/** The text cut where a claim begins or ends; each piece knows every claim that covers it, the narrowest first. */
export function pieces(text: string, claims: ClaimShown[], unread: UnreadShown[]): Piece[] {
  const edges = new Set([0, text.length]);
  for (const one of [...claims, ...unread]) edges.add(one.start).add(one.end);
  const cuts = [...edges].filter((at) => at >= 0 && at <= text.length).sort((a, b) => a - b);
  return cuts.slice(0, -1).map((start, n) => {
    const end = cuts[n + 1] ?? text.length;
    const over = claims.filter((one) => one.start <= start && one.end >= end);
    over.sort((a, b) => a.end - a.start - (b.end - b.start));
    return { start, end, claims: over, unread: unread.some((one) => one.start <= start && one.end >= end) };
  });
}

interface Label {
  text: string;
  claims: ClaimShown[];
  unread: UnreadShown[];
  troubled: Set<string>;
  bears: (claim: ClaimShown) => ComponentChildren;
}

export function LabelRead({ text, claims, unread, troubled, bears }: Label) {
  const [chosen, choose] = useState<number | null>(null);
  const cut = pieces(text, claims, unread);
  const picked = cut.find((piece) => piece.start === chosen);
  return (
    <div class="read">
      <p class="label-card">
        {cut.map((piece) => (
          <Words key={piece.start} text={text.slice(piece.start, piece.end)} piece={piece} troubled={troubled} chosen={chosen} choose={choose} />
        ))}
      </p>
      <div aria-live="polite">
        {picked && picked.claims.map((claim) => <ClaimRead key={claim.id} of={claim} bears={bears(claim)} />)}
        {picked && !picked.claims.length && <p class="claim">“{text.slice(picked.start, picked.end).trim()}” was not read. It stands on the label all the same; judge it yourself.</p>}
        {!picked && <p class="quiet">Choose an underlined word to see what it claims and what bears on it.</p>}
      </div>
    </div>
  );
}

interface Word {
  text: string;
  piece: Piece;
  troubled: Set<string>;
  chosen: number | null;
  choose: (start: number | null) => void;
}

function Words({ text, piece, troubled, chosen, choose }: Word) {
  const first = piece.claims[0];
  if ((!first && !piece.unread) || !text.trim()) return <>{text}</>;
  const trouble = piece.claims.some((one) => troubled.has(one.id));
  const on = chosen === piece.start;
  const turn = () => choose(on ? null : piece.start);
  const kind = first ? plain(first.side) : "not read";
  return (
    <span
      role="button"
      tabIndex={0}
      aria-pressed={on}
      aria-label={`${text.trim()}: ${kind}${trouble ? ", in question" : ""}`}
      class={`word kind-${first ? first.side : "unread"} ${trouble ? "trouble" : ""}`}
      onClick={turn}
      onKeyDown={(event) => {
        if (event.key !== "Enter" && event.key !== " ") return;
        event.preventDefault();
        turn();
      }}
    >
      {text}
    </span>
  );
}

function ClaimRead({ of, bears }: { of: ClaimShown; bears: ComponentChildren }) {
  return (
    <section class="claim" aria-label={`What “${of.words}” claims`}>
      <p>
        <strong>{of.words}</strong>: {of.says} <span class="quiet">({plain(of.side)}{of.part ? `, of the ${of.part}` : ""}, {plain(of.strength)})</span>
      </p>
      {bears}
    </section>
  );
}
