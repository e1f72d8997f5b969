// Tablets at the desk: a code for a new one, four words to compare, what each has waiting, and taking one out of use.
import { useEffect, useMemo, useState } from "preact/hooks";
import { api, type CodeShown, type FileTaken, type TabletShown, type TabletsShown, type WaitingShown } from "../api/client";
import { type Problem } from "../api/call";
import { Act, problemOf, Shown, useAsked } from "../parts/asking";
import { Choose } from "../parts/fields";
import { ProblemNote } from "../parts/notes";
import { when } from "../parts/words";
import { to } from "../route";
import { has, office } from "../session";

const LOOK_MS = 3000;

export function DevicesPage() {
  const asked = useAsked(async () => ({ all: await api.tablets(), people: await api.people() }), []);
  useEffect(() => {
    const timer = setInterval(() => void asked.again(), LOOK_MS);
    return () => clearInterval(timer);
  }, [asked.again]);
  return (
    <>
      <h1>Tablets</h1>
      <p class="lead">
        A tablet is paired once, for one person. Work that waits on it is counted here; work that is refused becomes a <a href={to("cards")}>card</a>.
      </p>
      <NewCode />
      <WorkFile />
      <Shown of={asked}>
        {({ all, people }) => {
          const names = new Map(people.map((one) => [one.id, one.name]));
          const put = (found: TabletsShown) => asked.put({ all: found, people });
          return (
            <>
              {all.waiting.map((one) => <Waiting key={one.pairing} of={one} names={names} put={put} />)}
              {all.alarms.map((one) => (
                <p class="note" role="alert" key={`${one.at}${one.code}`}>
                  {when(one.at)}: {one.words}
                </p>
              ))}
              {!all.tablets.length && <p>No tablet is paired yet.</p>}
              <ul class="cards">
                {all.tablets.map((one) => <Tablet key={one.dev} of={one} names={names} put={put} />)}
              </ul>
            </>
          );
        }}
      </Shown>
    </>
  );
}

/** The code as a picture, where the desk draws one. */
function drawn(code: CodeShown | undefined): string {
  if (!code?.qr) return "";
  const named = code.qr.includes("xmlns=") ? code.qr : code.qr.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ');
  return URL.createObjectURL(new Blob([named], { type: "image/svg+xml" }));
}

function NewCode() {
  const [code, setCode] = useState<CodeShown>();
  const [left, setLeft] = useState(0);
  const picture = useMemo(() => drawn(code), [code]);
  useEffect(() => {
    if (!code) return;
    const until = Date.now() + code.seconds * 1000;
    const timer = setInterval(() => setLeft(Math.max(0, Math.round((until - Date.now()) / 1000))), 1000);
    return () => clearInterval(timer);
  }, [code]);
  const run = async () => {
    const made = await api.new_pairing_code();
    setCode(made);
    setLeft(made.seconds);
  };
  return (
    <section aria-labelledby="new-code">
      <h2 id="new-code">Pair a tablet</h2>
      <p class="row">
        <Act run={run}>{code ? "Another code" : "Show a code"}</Act>
      </p>
      {code && left > 0 && (
        <div class="note once">
          {picture && <img class="pairing" alt="The code as a picture, for the tablet's camera" src={picture} />}
          <p>
            Or open <strong>{code.url.split("#")[0]}</strong> on the tablet and type:
          </p>
          <p class="secret">{code.typed}</p>
          <p>
            Good once, for {Math.ceil(left / 60)} more minutes. The tablet's own screen lock must be on: it protects what lies on the tablet. On an iPhone or iPad add the page to the home screen first and
            pair inside it.
          </p>
        </div>
      )}
      {code && left === 0 && <p>The code has run out. Show another one.</p>}
    </section>
  );
}

function WorkFile() {
  const [said, setSaid] = useState("");
  const [problem, setProblem] = useState<Problem>();
  const take = async (file: File | undefined) => {
    if (!file) return;
    setSaid("");
    setProblem(undefined);
    try {
      setSaid(told(await api.take_file(file)));
    } catch (failure) {
      setProblem(problemOf(failure));
    }
  };
  return (
    <section aria-labelledby="work-file">
      <h2 id="work-file">A tablet that cannot reach the desk</h2>
      <p>On the tablet: My work, Save my work as a file. Bring the file here. What is here already is not taken twice; pictures stay on the tablet.</p>
      <p>
        <label class="file plain">
          Take in a tablet's work file
          <input type="file" accept=".json,application/json" onChange={(event) => void take(event.currentTarget.files?.[0])} />
        </label>
      </p>
      {said && <p role="status">{said}</p>}
      {problem && <ProblemNote of={problem} />}
    </section>
  );
}

function told(done: FileTaken): string {
  const cards = done.cards ? ` ${done.cards} of them became cards.` : "";
  const left = done.left ? ` ${done.left} were not taken: ${done.why}` : "";
  return `${done.dev}: ${done.fresh} entries taken in, ${done.known} were here before.${cards}${left}`;
}

interface Part<T> {
  of: T;
  names: Map<string, string>;
  put: (found: TabletsShown) => void;
}

const peopleOf = (names: Map<string, string>) => [{ value: "", words: "choose" }, ...[...names].map(([value, words]) => ({ value, words }))];

function Waiting({ of, names, put }: Part<WaitingShown>) {
  const [person, setPerson] = useState("");
  const yes = async () => {
    if (!person) throw new Error("Choose whose tablet it is.");
    put(await api.pair_yes({ pairing: of.pairing }, { person }));
  };
  return (
    <section class="suggestion" aria-label="A tablet asks to be paired">
      <h3>A tablet asks to be paired{of.again && `; it says it was tablet ${of.again}`}</h3>
      <p>Do the same four words stand on the tablet?</p>
      <p class="secret">{of.words.join(" · ")}</p>
      {!of.signs && <p>It cannot sign its work: its connection is not secure. What it hands in is attested by the desk only.</p>}
      <Choose name="Whose tablet" value={person} set={setPerson} of={peopleOf(names)} />
      <p class="row">
        <Act run={yes}>Yes, the words are the same</Act>
        <Act plain run={async () => put(await api.pair_no({ pairing: of.pairing }))}>
          No
        </Act>
      </p>
    </section>
  );
}

const STATE: Record<string, string> = { paired: "in use", lost: "lost: hands in, then forgets", stolen: "stolen: told nothing", retired: "out of use" };
const ago = (seconds: number) => (seconds < 90 ? "now" : seconds < 7200 ? `${Math.round(seconds / 60)} min ago` : `${Math.round(seconds / 3600)} h ago`);

function Tablet({ of, names, put }: Part<TabletShown>) {
  const [more, setMore] = useState("");
  const waits = [of.queue && `${of.queue} entries`, of.pictures && `${of.pictures} pictures`].filter(Boolean).join(" and ");
  const share = async () => {
    if (!more) throw new Error("Choose a person.");
    put(await api.share_tablet({ dev: of.dev }, { person: more }));
  };
  return (
    <li class="card">
      <h3>
        {of.name || of.dev} <span class="state">{STATE[of.state] ?? of.state}</span>
      </h3>
      <p>
        {of.people.map((one) => names.get(one) ?? one).join(", ")} · seen {of.seen ? ago(of.seen_s) : "never"} · {waits ? <strong>{waits} wait on it, oldest {ago(of.oldest_s).replace(" ago", "")}</strong> : "nothing waits on it"}
        {of.behind > 0 && ` · ${of.behind} entries behind the desk`}
        {!of.signs && " · does not sign"}
      </p>
      {of.state === "paired" && (
        <details>
          <summary>Another person, or out of use</summary>
          <Choose name="Let another person set a PIN here" hint="Within ten minutes, on the tablet. Also for a forgotten PIN." value={more} set={setMore} of={peopleOf(names)} />
          <p class="row">
            <Act plain run={share}>
              Let them
            </Act>
          </p>
          {(office() || has("admin")) && <OutOfUse of={of} put={put} />}
        </details>
      )}
    </li>
  );
}

function OutOfUse({ of, put }: { of: TabletShown; put: (found: TabletsShown) => void }) {
  const revoke = (how: "lost" | "stolen" | "retired") => async () => put(await api.revoke_tablet({ dev: of.dev }, { how }));
  return (
    <>
      <p>A tablet out of use hands in what it holds, which waits for the chair, reads nothing more, and forgets the fair. A stolen one is told nothing at all.</p>
      <p class="row">
        <Act plain run={revoke("retired")}>Out of use</Act>
        <Act plain run={revoke("lost")}>Lost</Act>
        <Act plain run={revoke("stolen")}>Stolen</Act>
      </p>
    </>
  );
}
