// Words with changes marked: taken out struck through, put in underlined and bold; said aloud for who cannot see it.
import type { WordChangeShown } from "../api/client";

export function Changes({ of }: { of: WordChangeShown[] }) {
  return (
    <p class="label-card changes">
      {of.map((run, n) => {
        const { words } = run;
        if (run.kind === "removed") return <del key={n}><span class="aloud"> taken out: </span>{words}</del>;
        if (run.kind === "added") return <ins key={n}><span class="aloud"> put in: </span>{words}</ins>;
        return <span key={n}>{words}</span>;
      })}
    </p>
  );
}
