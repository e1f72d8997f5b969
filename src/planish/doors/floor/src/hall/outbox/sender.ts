// The sender: hand in the queue, then the pictures, then fetch what is new. One page at a time, for ever, with patience.
import { line, deskTrouble, load, onNews, tablet, who, wrote } from "../state";
import { deskIsTheSame, unlockAgain } from "../keys/meeting";
import { sign } from "../keys/device";
import { answered, batch, type Result } from "./batch";
import { drawRibbons } from "./ribbons";
import { backAgain, lease, letGo } from "./lease";
import { owns, release, tidy, waitingOf } from "./outbox";
import { sendPictures, picturesLeft } from "./pictures";
import type { Kept, Own, Person, Round } from "./shapes";
import { agree, newest, proto } from "./protocol";
import { changeKept, readKept, recall, remember, within, wipe } from "./store";
import { again_from, begin_again, FORKED, type Head, type Pulled, take, told } from "./taking";
import { ask, Away, Refused } from "./wire";

const REST_MS = 4_000;
const LONGEST_MS = 30_000;
const LOOK_MS = 20_000;
let looked = 0;
let timer = 0;
let busy = false;
let oncemore = false;
let failures = 0;
let met = false;

/** Begin, and wake whenever there is a reason to hope. */
export function begin(): void {
  onNews(wake);
  addEventListener("online", hope);
  document.addEventListener("visibilitychange", () => (document.visibilityState === "visible" ? hope() : undefined));
  addEventListener("pagehide", letGo);
  addEventListener("pageshow", backAgain);
  wake();
}

function hope(): void {
  failures = 0;
  wake();
}

export function wake(): void {
  if (busy) {
    oncemore = true;
    return;
  }
  clearTimeout(timer);
  void run();
}

async function run(): Promise<void> {
  busy = true;
  oncemore = false;
  let rest = REST_MS;
  try {
    await release();
    if (await lease()) await round();
    else await load();
    failures = 0;
  } catch (failure) {
    rest = await troubled(failure);
  } finally {
    busy = false;
    await load(false).catch(() => {});
    clearTimeout(timer);
    timer = window.setTimeout(() => void run(), oncemore && !failures ? 0 : rest * (0.75 + Math.random() / 2));
  }
}

/** One, two, four … thirty seconds; longer when the desk says so. The queue stays as it is whatever happens. */
async function troubled(failure: unknown): Promise<number> {
  failures += 1;
  const rest = Math.min(1000 * 2 ** (failures - 1), LONGEST_MS);
  if (failure instanceof Away) {
    line.value = "away";
    met = false;
    return rest;
  }
  if (!(failure instanceof Refused)) {
    deskTrouble.value = String(failure);
    return rest;
  }
  return Math.max(await refused(failure, rest), failure.wait);
}

async function refused(failure: Refused, rest: number): Promise<number> {
  const { status, trouble, body } = failure;
  if (status === 401 && trouble.code === "unlock") {
    line.value = "unlock";
    if (await unlockAgain()) return 0;
    return REST_MS;
  }
  if (status === 401 && trouble.code === "device") await changeKept((now) => ({ ...now, state: "strange" }));
  else if (status === 403 && trouble.code === "revoked") {
    await changeKept((now) => ({ ...now, state: "revoked", trouble: String(body.how ?? "") }));
    return failures > 1 ? rest : 0;
  } else if (status === 409 && trouble.code === "epoch") {
    await begin_again(String(body.epoch ?? ""), Number(body.last ?? 0));
    return 0;
  } else if (status === 409 && trouble.code === "proto" && agree(body.speaks)) return 0;
  else if (status === 507) line.value = "full";
  else if (status >= 502 && status <= 504) line.value = "away";
  else deskTrouble.value = `${trouble.what} ${trouble.remedy}`.trim();
  return rest;
}

async function round(): Promise<void> {
  const before = await readKept();
  if (!before.dev || ["none", "waiting", "wiped", "stuck"].includes(before.state)) return;
  // Another desk can stand there from one request to the next without any of ours failing: ask before anything is sent.
  if (!met || waitingOf(await owns()).length) {
    if (!(await deskIsTheSame(before.fair))) {
      await changeKept((now) => ({ ...now, state: "stuck", trouble: "Another desk answers under this name. Nothing is sent to it." }));
      return;
    }
    if (!met) {
      newest();
      await showHeads();
    }
    met = true;
  }
  if (before.state === "strange") {
    await ask("device");
    await changeKept((now) => ({ ...now, state: "paired" }));
  }
  await handIn();
  await sendPictures();
  line.value = "here";
  deskTrouble.value = "";
  const now = await readKept();
  if (now.state === "revoked") return farewell();
  if (now.state !== "paired") return;
  if (!who.value) return lookWhileLocked(now);
  await fetchNew();
  await tidy();
}

/**
 * Hold the heads this tablet remembers against the desk's log: who rewrote it cannot make them agree. The desk raises the
 * alarm; the cursor of the next pull, which carries such a head itself, makes this tablet begin again.
 */
async function showHeads(): Promise<void> {
  const heads = await recall<Head[]>("heads");
  if (heads?.length) await ask("heads", { body: { heads } });
}

/** With nobody unlocked nothing is pulled; a desk that was set back is noticed all the same, and what it lost handed in. */
async function lookWhileLocked(now: Kept): Promise<void> {
  if (Math.abs(Date.now() - looked) < LOOK_MS) return;
  const asked = Date.now();
  const desk = await ask<{ epoch: string; last_seq: number } & Parameters<typeof told>[0]>("device");
  looked = Date.now();
  await changeKept((one) => ({ ...one, ...told(desk, looked - asked) }));
  const lost = (await owns()).some((one) => one.n > 0 && one.seq > desk.last_seq);
  if (now.epoch && desk.epoch !== now.epoch) await begin_again(desk.epoch, desk.last_seq);
  else if (lost) await again_from(desk.last_seq);
  else return;
  oncemore = true;
}

/** Push until nothing waits. */
async function handIn(): Promise<void> {
  for (let turn = 0; turn < 500; turn += 1) {
    const all = await owns();
    const waiting = waitingOf(all);
    if (!waiting.length) return;
    const { events, rows } = batch(await signed(waiting));
    const asked = Date.now();
    const now = await readKept();
    const said = await ask<{ results?: Result[]; taken?: boolean } & Parameters<typeof told>[0]>("push", {
      body: { proto: proto(), epoch: now.epoch, dev: now.dev, events, queue: waiting.length, oldest_ms: Date.now() - (waiting[0]?.t ?? Date.now()) },
    });
    if (said.taken) {
      await changeKept((one) => ({ ...one, state: "revoked", trouble: "stolen" }));
      return;
    }
    if (!(await settleBatch(rows, said.results ?? [], told(said, Date.now() - asked)))) return;
    await load(false);
  }
}

async function signed(waiting: Own[]): Promise<Own[]> {
  const head = waiting.slice(0, 200);
  const naked = head.filter((one) => !one.sig);
  const made = await Promise.all(naked.map(async (one) => [one.seq, await sign(one.raw)] as const));
  const by = new Map(made.filter(([, sig]) => sig));
  if (by.size) {
    await within("readwrite", (stores) => {
      for (const one of naked) if (by.has(one.seq)) stores.events.put({ ...one, sig: by.get(one.seq) ?? "" });
    });
  }
  return head.map((one) => ({ ...one, sig: one.sig || (by.get(one.seq) ?? "") }));
}

/** Each answer to its event, and what the desk told besides, in one transaction. False: stop sending for now. */
async function settleBatch(sent: Own[], results: Result[], besides: Partial<Kept>): Promise<boolean> {
  const found = answered(sent, results);
  await within("readwrite", async (stores) => {
    for (const one of found.rows) stores.events.put(one);
  });
  await changeKept((now) => ({ ...now, ...besides }));
  if (found.epoch) {
    await begin_again(found.epoch, found.from ?? 0);
    return true;
  }
  if (found.from !== null) {
    const lacking = (await owns()).some((one) => one.seq === (found.from ?? 0) + 1);
    if (!lacking) return stuck("The desk lacks work that this tablet no longer holds. Bring the tablet to the desk.");
    await again_from(found.from);
    return true;
  }
  if (found.stop) return stuck(found.stop);
  return found.rows.length > 0;
}

async function stuck(words: string): Promise<false> {
  await changeKept((now) => ({ ...now, state: "stuck", trouble: words }));
  return false;
}

async function fetchNew(): Promise<void> {
  let some = false;
  for (let turn = 0; turn < 400; turn += 1) {
    const now = await readKept();
    const asked = Date.now();
    const waiting = waitingOf(await owns());
    const page = await ask<Pulled>("pull", {
      query: { epoch: now.epoch, after: now.n, hash: now.hash, from: now.asked, queue: waiting.length, pictures: await picturesLeft(), proto: proto() },
    });
    if (page.again) {
      await changeKept((one) => ({ ...one, n: 0, hash: "", asked: "" }));
      continue;
    }
    if (!(await take(page, now, Date.now() - asked))) {
      await stuck(FORKED);
      return;
    }
    some ||= page.objects.length > 0 || page.gone.length > 0 || page.entries.length > 0;
    if (!page.more) break;
  }
  if (some || !(await roundKnown())) await fetchRound();
  await drawRibbons();
  if (some) await wrote(true);
}

const roundKnown = async () => Boolean(await recall("round"));

async function fetchRound(): Promise<void> {
  const found = await ask<Round & { fair: { id: string; name: string } }>("round");
  await remember("round", found);
  await remember("people", (await ask<{ people: Person[] }>("device")).people);
  await changeKept((now) => ({ ...now, fair_name: found.fair.name || now.fair_name }));
}

/** Revoked: when everything is handed in, the tablet forgets the fair. */
async function farewell(): Promise<void> {
  const left = waitingOf(await owns()).length + (await picturesLeft());
  const now = await readKept();
  if (left || now.trouble === "stolen") return;
  await ask("handed_in", { body: { queue: 0 } }).catch((failure: unknown) => {
    if (failure instanceof Away) throw failure;
  });
  await wipe({ ...now, state: "wiped", dev: "", n: 0, hash: "", asked: "" });
  who.value = null;
  localStorage.removeItem("planish.floor.dev");
  tablet.value = await readKept();
  await wrote(true);
}
