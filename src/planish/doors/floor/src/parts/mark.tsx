// Outcomes: the word first, then the shape that also stands on paper. It reads without colour.
const WORDS: Record<string, string> = {
  accept: "Accept",
  relabel: "Relabel",
  remove: "Remove",
  refer: "Refer",
};

export const outcomeWord = (outcome: string) => WORDS[outcome] ?? "";

export function Mark({ outcome }: { outcome: string }) {
  return (
    <svg class={`mark mark-${outcome}`} viewBox="0 0 20 20" width="20" height="20" aria-hidden="true" focusable="false">
      {SHAPES[outcome]}
    </svg>
  );
}

const SHAPES: Record<string, preact.JSX.Element> = {
  accept: <circle cx="10" cy="10" r="8.5" class="whole" />,
  relabel: (
    <>
      <circle cx="10" cy="10" r="8.5" class="open" />
      <rect x="1.8" y="7.2" width="16.4" height="5.6" class="band" />
    </>
  ),
  remove: (
    <>
      <circle cx="10" cy="10" r="8" class="ring" />
      <rect x="8.5" y="2.4" width="3" height="15.2" class="bar" />
    </>
  ),
  refer: (
    <>
      <circle cx="10" cy="10" r="8.4" class="dotted" />
      <circle cx="10" cy="10" r="2.4" class="point" />
    </>
  ),
};

export function Outcome({ of }: { of: string }) {
  if (!SHAPES[of]) return <span class="quiet">none yet</span>;
  return (
    <span class="outcome">
      <strong>{WORDS[of]}</strong> <Mark outcome={of} />
    </span>
  );
}
