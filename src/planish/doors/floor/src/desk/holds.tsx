// Holds: put on by anybody on the floor, lifted at the desk with a reason.
import { useState } from "preact/hooks";
import { api, type HoldPlaced, type HoldShown } from "../api/client";
import { Sending } from "../parts/asking";
import { Choose, Field } from "../parts/fields";
import { HOLD } from "../parts/words";
import type { Part } from "./object";

export const holdSays = (of: HoldShown) => `${HOLD[of.sort] ?? of.sort}${of.off_floor ? ", off the floor" : ""}${of.reason ? `: ${of.reason}` : ""}`;

export function HoldIt({ of, put }: Part) {
  const [given, set] = useState({ sort: "stolen_query", off_floor: "", reason: "" });
  const run = async () => {
    put(await api.place_hold({ object_id: of.id }, { sort: given.sort as HoldPlaced["sort"], off_floor: given.off_floor === "yes", reason: given.reason }));
    set({ ...given, reason: "" });
  };
  return (
    <Sending run={run} submit="Hold it" done="It is held." legend="Hold it">
      <h3>Hold</h3>
      <Choose name="What for" value={given.sort} set={(sort) => set({ ...given, sort })} of={Object.entries(HOLD).map(([value, words]) => ({ value, words }))} />
      <Choose name="May it stay on the floor?" value={given.off_floor} set={(off_floor) => set({ ...given, off_floor })} of={[{ value: "", words: "yes, until this is clear" }, { value: "yes", words: "no, it comes off the floor" }]} />
      <Field name="Why it is held" hint="About the object. What it means in law is for those licensed to say." value={given.reason} set={(reason) => set({ ...given, reason })} long needed />
    </Sending>
  );
}

export function HoldsOn({ of, put, again }: Part) {
  if (!of.holds.length) return null;
  return (
    <section aria-labelledby="holds" class="note">
      <h2 id="holds" class="small">
        Held
      </h2>
      <ul class="ruled">
        {of.holds.map((one) => (
          <li key={one.name}>
            <p>{holdSays(one)}</p>
            {of.may.includes("lift") && <Lift hold={one} of={of} put={put} again={again} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Lift({ hold, of, put }: Part & { hold: HoldShown }) {
  const [reason, setReason] = useState("");
  return (
    <details>
      <summary>Lift this hold</summary>
      <Sending run={async () => put(await api.lift_hold({ object_id: of.id }, { hold: hold.name, reason }))} submit="Lift it" legend={`Lift the hold: ${HOLD[hold.sort] ?? hold.sort}`}>
        <Field name="What makes it clear" value={reason} set={setReason} long needed />
      </Sending>
    </details>
  );
}
