// Choosing where a copy goes: a medium that is plugged in, or, at the laptop itself, any folder.
import { useState } from "preact/hooks";
import type { MediumShown, RecordShown } from "../api/client";
import { Sending } from "../parts/asking";
import { Field, OneOf } from "../parts/fields";
import { running } from "./record";

export const room = (one: MediumShown) => `${one.free_mb >= 1000 ? `${(one.free_mb / 1000).toFixed(1)} GB` : `${one.free_mb} MB`} free`;

interface Choosing {
  of: RecordShown;
  submit: string;
  run: (place: string) => Promise<void>;
  beside?: string;
}

const OTHER = "\n";

export function Where({ of, submit, run, beside }: Choosing) {
  const first = beside !== undefined ? "" : of.there ? of.place : (of.media[0]?.place ?? (of.may_name ? OTHER : ""));
  const [place, setPlace] = useState(first);
  const [other, setOther] = useState("");
  const ways = [
    ...(beside !== undefined ? [{ value: "", words: beside }] : []),
    ...of.media.map((one) => ({ value: one.place, words: `${one.place}, ${room(one)}${one.other_disk ? "" : ", on the same disk as the fair"}` })),
    ...(of.may_name ? [{ value: OTHER, words: "Another folder" }] : []),
  ];
  if (!ways.length) return <p class="note">No stick or second disk is plugged into the laptop that planish runs on. Put one in, then load this page again.</p>;
  const start = async () => {
    const chosen = place === OTHER ? other.trim() : place;
    if (place === OTHER && !chosen) throw new Error("Name the folder first.");
    await run(chosen);
  };
  return (
    <Sending run={start} submit={submit} legend={submit}>
      <OneOf legend="Where to" value={place} set={setPlace} of={ways} />
      {place === OTHER && <Field name="Folder" hint="Its whole path, such as /media/stick or D:\. It must be there." value={other} set={setOther} needed />}
      {running(of) && <p class="quiet">Something is being done already; it stands above.</p>}
    </Sending>
  );
}
