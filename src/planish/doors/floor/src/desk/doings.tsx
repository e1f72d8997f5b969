// What this reader may do with the object now: the next step large, the rest folded.
import { useState } from "preact/hooks";
import { api, type CountShown, type MoveMade } from "../api/client";
import { Act, Sending } from "../parts/asking";
import { Choose, Field } from "../parts/fields";
import { Outcome } from "../parts/mark";
import { TwoSign } from "../parts/second";
import { WHERE } from "../parts/words";
import { to } from "../route";
import { chairs, has, leads, office } from "../session";
import type { Part } from "./object";
import { HoldIt } from "./holds";
import { Trace } from "./outcome";

const SETTLED = ["confirmed", "final", "withdrawn"];

export function Doings({ of, put, again }: Part) {
  const may = (what: string) => of.may.includes(what);
  return (
    <section class="doings" aria-label="What to do">
      <div class="row">
        {may("ballot") && !of.own_ballots.some((one) => one.round === of.round) && (
          <a class="button" href={to("ballot", of.id)}>
            Give my view{of.round === 2 && ", second round"}
          </a>
        )}
        {(may("ask_words") || may("agree_words")) && (
          <a class="button" href={to("words", of.id)}>
            Words
          </a>
        )}
        {may("seal") && (
          <a class="button plain" href={to("seals", "", { stand: of.stand })}>
            Read and seal
          </a>
        )}
        {of.examination === "listed" && !has("auditor") && (
          <Act plain run={async () => { await api.present_object({ object_id: of.id }); await again(); }}>
            It lies before the panel
          </Act>
        )}
      </div>
      {of.may_vote && !of.stepped_back && has("member", "leader") && <p class="quiet">No view of yours is asked here: {of.may_vote}</p>}
      {may("count") && !SETTLED.includes(of.examination) && <Count of={of} put={put} again={again} />}
      {may("confirm") && <Confirm of={of} put={put} again={again} />}
      {may("final") && <Final of={of} put={put} again={again} />}
      <More of={of} put={put} again={again} />
    </section>
  );
}

function Count({ of, again }: Part) {
  const [found, setFound] = useState<CountShown>();
  const count = (casting: "relabel" | "refer" | null) => async () => {
    setFound(await api.count_object({ object_id: of.id }, { casting }));
    await again();
  };
  return (
    <>
      <Act run={count(null)}>Close the round and count</Act>
      {chairs() && of.answer && of.answer.then !== "settled" && (
        <span class="row casting">
          <Act plain run={count("relabel")}>Casting vote: relabel</Act>
          <Act plain run={count("refer")}>Casting vote: refer</Act>
        </span>
      )}
      {found && (
        <div class="note" role="status">
          <p>{found.answer.outcome ? <Outcome of={found.answer.outcome} /> : <strong>{NEXT[found.answer.then]}</strong>}</p>
          <Trace of={found} />
        </div>
      )}
    </>
  );
}

const NEXT: Record<string, string> = {
  talk: "Talk about it at the table; then everybody gives a second view.",
  refer: "It goes to somebody else.",
  waiting: "Not all views are in.",
  settled: "Settled.",
};

function Confirm({ of, put }: Part) {
  const at = { object_id: of.id };
  if (of.outcome !== "remove") {
    return (
      <Act run={async () => put(await api.confirm_outcome(at, { base: of.on_outcome }))}>
        Confirm: <Outcome of={of.outcome} />
      </Act>
    );
  }
  return (
    <TwoSign
      legend="Confirm a removal"
      why="A removal is confirmed by two people."
      submit="Confirm: remove"
      ask={{ what: "confirm", object: of.id }}
      run={async (second) => put(await api.confirm_outcome(at, { second, base: of.on_outcome }))}
    />
  );
}

function Final({ of, put }: Part) {
  const at = { object_id: of.id };
  if (of.outcome !== "remove") return <Act plain run={async () => put(await api.make_final(at, {}))}>Appeal time is over: make it final</Act>;
  return (
    <details>
      <summary>Appeal time is over: make the removal final</summary>
      <TwoSign legend="Make a removal final" why="Two people sign." submit="Make it final" ask={{ what: "final", object: of.id }} run={async (second) => put(await api.make_final(at, { second }))} />
    </details>
  );
}

function More({ of, put, again }: Part) {
  const may = (what: string) => of.may.includes(what);
  const open = !SETTLED.includes(of.examination);
  return (
    <details>
      <summary>More: ask, move, hold, refer, reopen, print</summary>
      <div class="two">
        <Ask of={of} put={put} again={again} />
        {may("move") && <Move of={of} put={put} again={again} />}
        {may("hold") && <HoldIt of={of} put={put} again={again} />}
        {open && (leads() || has("member", "scribe", "office")) && <Refer of={of} put={put} again={again} />}
        {may("reopen") && (
          <TwoSign
            legend="Look at it again"
            why="Something decided is opened again by two people."
            submit="Reopen"
            ask={{ what: "reopen", object: of.id }}
            reason
            run={async (second, reason) => put(await api.reopen({ object_id: of.id }, { second, reason }))}
          />
        )}
        {may("revoke_seal") && (
          <TwoSign
            legend="Withdraw the seal"
            why="Take the card down first. From then on the check page says that this seal was withdrawn."
            submit="Withdraw the seal"
            ask={{ what: "revoke_seal", object: of.id }}
            reason
            run={async (second, reason) => put(await api.revoke_seal({ object_id: of.id }, { second, reason }))}
          />
        )}
      </div>
      {["listed", "presented", "not_seen"].includes(of.examination) && <NotFound of={of} put={put} again={again} />}
      {(office() || leads() || has("appeals")) && ["confirmed", "final", "under_appeal"].includes(of.examination) && (
        <p>
          <a href={to("appeal", of.id)}>Appeal against it</a>
        </p>
      )}
      <p class="row">
        {["slips", "wording", "labels", "receipts"].map((paper) => (
          <a key={paper} class="plain button" href={`/api/v1/papers/${paper}.pdf?object=${encodeURIComponent(of.id)}`} target="_blank" rel="noreferrer">
            Print {paper.replace(/s$/, "")}
          </a>
        ))}
      </p>
    </details>
  );
}

function NotFound({ of, again }: Part) {
  return (
    <p class="row">
      {(["absent", "locked", "not_seen"] as const).map((reason) => (
        <Act key={reason} plain run={async () => { await api.not_found({ object_id: of.id }, { reason }); await again(); }}>
          {{ absent: "Not on the stand", locked: "The case is locked", not_seen: "Not seen" }[reason]}
        </Act>
      ))}
    </p>
  );
}

function Ask({ of, again }: Part) {
  const [who, setWho] = useState("exhibitor");
  const [words, setWords] = useState("");
  const run = async () => {
    await api.ask_question({ object_id: of.id }, { to: who, words });
    setWords("");
    await again();
  };
  return (
    <Sending run={run} submit="Ask" done="Asked." legend="Ask a question">
      <h3>Ask</h3>
      <Choose name="Whom" value={who} set={setWho} of={["exhibitor", "chair", "office", "leader", "laboratory"].map((one) => ({ value: one, words: `the ${one}` }))} />
      <Field name="The question" value={words} set={setWords} long needed />
    </Sending>
  );
}

function Refer({ of, put }: Part) {
  const [who, setWho] = useState("laboratory");
  const [words, setWords] = useState("");
  return (
    <Sending run={async () => put(await api.refer({ object_id: of.id }, { to: who, words }))} submit="Refer" legend="Refer">
      <h3>Refer</h3>
      <Choose name="To" value={who} set={setWho} of={["laboratory", "chair", "appeals"].map((one) => ({ value: one, words: one === "appeals" ? "the appeals panel" : `the ${one}` }))} />
      <Field name="The exact question" value={words} set={setWords} long />
    </Sending>
  );
}

function Move({ of, put }: Part) {
  const [given, set] = useState({ to: "safe_keeping", place: "", given_by: office() ? of.stand : "", condition: "" });
  const field = (name: keyof typeof given) => (value: string) => set({ ...given, [name]: value });
  const run = async () => put(await api.move_object({ object_id: of.id }, { ...given, to: given.to as MoveMade["to"] }));
  return (
    <Sending run={run} submit="I take it over" done="The move is noted." legend="Move it">
      <h3>Move</h3>
      <Choose name="Where to" value={given.to} set={field("to")} of={Object.entries(WHERE).map(([value, words]) => ({ value, words }))} />
      <Field name="Place" hint="Shelf or room." value={given.place} set={field("place")} />
      <Field name="Handed over by" hint="A stand's number or a person's short name." value={given.given_by} set={field("given_by")} needed />
      <Field name="Condition" hint="As it is handed over." value={given.condition} set={field("condition")} />
    </Sending>
  );
}
