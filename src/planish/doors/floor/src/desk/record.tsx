// The safe keeping of the record: copies on a second medium, a trial with a sheet, the archive, and a copy opened again.
import { useEffect } from "preact/hooks";
import { api, type RecordShown } from "../api/client";
import { Shown, useAsked } from "../parts/asking";
import { Table } from "../parts/table";
import { Progress } from "../parts/progress";
import { when } from "../parts/words";
import { to } from "../route";
import { chairs } from "../session";
import { Archives } from "./archives";
import { OpenCopy, TryCopy } from "./copies";
import { Where, room } from "./media";

const LOOK_MS = 800;

export interface Kept {
  of: RecordShown;
  put: (found: RecordShown) => void;
}

export const running = (of: RecordShown) => of.work?.state === "running";

export function RecordPage() {
  const asked = useAsked(() => api.record(), []);
  const busy = asked.value !== undefined && running(asked.value);
  useEffect(() => {
    if (!busy) return;
    const timer = setInterval(() => void asked.again(), LOOK_MS);
    return () => clearInterval(timer);
  }, [busy, asked.again]);
  return (
    <>
      <h1>Safe keeping of the record</h1>
      <p class="lead">Copies of the log, its pictures and its keys on a second medium, so that the end of this laptop is not the end of the record.</p>
      <Shown of={asked}>
        {(of) => (
          <>
            <Now of={of} />
            {of.work && <Progress of={of.work} />}
            {of.keys !== "none" && (
              <>
                <MakeCopy of={of} put={asked.put} />
                <Copies of={of} />
                <TryCopy of={of} put={asked.put} />
              </>
            )}
            <Archives of={of} put={asked.put} />
            {of.keys !== "none" && chairs() && <OpenCopy of={of} put={asked.put} />}
          </>
        )}
      </Shown>
    </>
  );
}

function Now({ of }: { of: RecordShown }) {
  return (
    <section aria-labelledby="now">
      <h2 id="now">How safe it is now</h2>
      {of.keys === "none" ? (
        <p class="note">
          <strong>No copy can be made yet.</strong> Copies are encrypted to the fair's two recovery sheets, and this fair has no keys. <a href={to("seals")}>Make the keys under Seals</a>, which takes five minutes.
        </p>
      ) : (
        <Last of={of} />
      )}
      {of.keys === "untried" && (
        <p class="note">
          The recovery sheets were not both typed back. A sheet with a slip of the pen opens nothing: <a href={to("seals")}>try both under Seals</a>.
        </p>
      )}
      {of.fault && (
        <p class="note" role="alert">
          <strong>The last try failed.</strong> {sentence(of.fault)} The copies made before stand.
        </p>
      )}
    </section>
  );
}

const sentence = (words: string) => (/[.!?]$/.test(words) ? words : `${words}.`);

function Last({ of }: { of: RecordShown }) {
  if (!of.last) return <p><strong>There is no copy yet.</strong> Put in a stick or a second disk, and make one below.</p>;
  return (
    <>
      <p>
        <strong>The newest copy holds every entry up to {of.last.n}</strong>, made {when(of.last.at)}. It was opened and read from the first entry to the last before it was encrypted, and read back from the medium. Either of the two
        recovery sheets of key {of.key} opens it, and nothing else does.
      </p>
      <ul class="plain-list">
        <li>{of.behind ? "Newer work is not in it yet." : "Everything is in it."}</li>
        <li>{of.counts ? "It lies on another disk than the fair." : "It lies on the same disk as the fair: when that disk fails, both are gone. Tablets do not count it as safe."}</li>
        <li>
          {of.there ? "While planish runs, a copy goes there every five minutes whenever something was written." : "Its medium is not plugged in. Put it back, or choose another one."} <span class="quiet">({of.place})</span>
        </li>
        <li>{of.tried_out ? `A copy was last opened with a sheet ${when(of.tried_out)}.` : "Nobody has opened a copy with a sheet yet. Do it once before the doors open."}</li>
      </ul>
      {of.late && <p class="note"><strong>The last good copy on a second medium is more than fifteen minutes old, or there is none.</strong></p>}
    </>
  );
}

function MakeCopy({ of, put }: Kept) {
  return (
    <section aria-labelledby="make">
      <h2 id="make">Make a copy</h2>
      <p>It is made while everybody works. Nobody is kept waiting, and nothing on the medium is overwritten.</p>
      <Where of={of} submit="Make a copy now" run={async (place) => put(await api.make_backup({ place }))} />
    </section>
  );
}

function Copies({ of }: { of: RecordShown }) {
  const with_ = of.media.filter((one) => one.copies.length);
  if (!with_.length) return null;
  return (
    <section aria-labelledby="copies">
      <h2 id="copies">Copies</h2>
      <p>Kept are twelve of the last hour, one an hour for a day, one a day for five weeks. Older ones go, so that deleted words do not live on in them.</p>
      {with_.map((one) => (
        <details key={one.place} open={one.copies.length <= 12}>
          <summary>
            {one.copies.length === 1 ? "1 copy" : `${one.copies.length} copies`} on {one.place}, {room(one)}
          </summary>
          <Table caption={`On ${one.place}`} quietCaption heads={["Made", "Holds every entry up to"]} rows={one.copies.map((copy) => [when(copy.at), copy.n])} />
        </details>
      ))}
    </section>
  );
}
