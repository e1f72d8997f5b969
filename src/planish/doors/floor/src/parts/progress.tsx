// Something that takes a while at the desk: its step in words, how far it is, and what came of it.
import type { WorkShown } from "../api/client";
import { OddCells } from "./notes";

const NAMES: Record<WorkShown["what"], [string, string, string]> = {
  backup: ["A copy is being made", "A copy was made.", "No copy was made."],
  trial: ["A copy is being tried", "The sheet opens it.", "It could not be opened."],
  archive: ["An archive is being written", "An archive was written.", "The archive was not finished."],
  check: ["An archive is being read back", "The archive was read back.", "The archive could not be read back."],
  restore: ["A copy is being opened", "The copy is open in a new folder.", "The copy was not opened."],
};

export function Progress({ of }: { of: WorkShown }) {
  const [doing, done, failed] = NAMES[of.what];
  return (
    <div class="note" role="status">
      {of.state === "running" && (
        <>
          <p>
            <strong>{doing}.</strong> {of.step}
          </p>
          <progress max={1} value={of.share} aria-label={doing} />
        </>
      )}
      {of.state === "done" && (
        <>
          <p>
            <strong>{done}</strong>
          </p>
          <p class="as-written">{of.says}</p>
          {of.where && <p class="quiet digest">Where: {of.where}</p>}
        </>
      )}
      {of.state === "failed" && (
        <>
          <p>
            <strong>{failed}</strong>
          </p>
          <OddCells of={of.problems} />
        </>
      )}
    </div>
  );
}
