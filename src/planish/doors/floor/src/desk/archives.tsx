// The archive: one folder that can be read and checked in twenty years without planish.
import { api } from "../api/client";
import { Act } from "../parts/asking";
import { Table } from "../parts/table";
import { to } from "../route";
import { Where } from "./media";
import type { Kept } from "./record";

export function Archives({ of, put }: Kept) {
  return (
    <section aria-labelledby="archive">
      <h2 id="archive">The archive</h2>
      <p>
        For the years after the fair: one folder with every object in plain words, the papers, the rules, the facts that were leaned on, and the log with a small program that checks it. Anybody can read it without planish. No ballot, no name of a
        specialist and no price is in it. Print what is to be in it first, under <a href={to("print")}>Print</a>. Keep three of it on two kinds of medium, one elsewhere.
      </p>
      {!of.unlocked && (
        <p class="note">
          {of.keys === "ready" ? "The fair's keys are locked" : "The fair has no keys that were tried"}, so an archive written now is not signed. <a href={to("seals")}>{of.keys === "ready" ? "Unlock them" : "Make and try them"} under Seals</a> first if it should be.
        </p>
      )}
      <Where of={of} submit={of.unlocked ? "Write a signed archive" : "Write an archive without a signature"} beside="On this computer, beside the fair's folder" run={async (place) => put(await api.write_archive({ place }))} />
      {of.archives.length > 0 && (
        <Table
          caption="Archives of this fair"
          heads={["Where it lies", "Up to entry", "Signed", "Read back"]}
          rows={of.archives.map((one) => [
            <span class="digest">{one.folder}</span>,
            one.n,
            one.signed ? "by the fair's key" : "no",
            <Act plain label={`Check ${one.folder}`} run={async () => put(await api.check_archive({ folder: one.folder }))}>
              Check it
            </Act>,
          ])}
        />
      )}
    </section>
  );
}
