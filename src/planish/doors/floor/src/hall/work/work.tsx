// My work and this tablet: every own entry with its tick, the cards that wait for a decision, and what this browser promises.
import { Frame, seen } from "../parts/frame";
import { Press } from "../parts/press";
import { newer, offlineReady, update } from "../parts/update";
import { storageWords } from "../parts/warnings";
import { did, plural, ticks } from "../parts/words";
import { release } from "../outbox/outbox";
import { wake } from "../outbox/sender";
import { cards, docs, mine, oldestWaiting, picturesWaiting, tablet, waitingCount, who, wrote, now } from "../state";
import { choose, theme } from "../../theme";
import { numberOf } from "../round/standing";
import { span } from "../parts/words";
import { ask } from "../outbox/wire";
import { holdPin } from "../keys/meeting";
import { saveFile } from "./export";
import { Cards } from "./cards";

export function WorkPage() {
  const own = mine.value.filter((one) => one.who === who.value?.id).slice().reverse();
  const yours = cards.value.filter((one) => one.who === who.value?.id);
  const dim = theme.value === "dim";
  return (
    <Frame title="My work">
      <dl class="facts">
        <dt>Waiting on this tablet</dt>
        <dd>{waitingCount.value ? `${plural(waitingCount.value, "entry", "entries")}, oldest ${span(now.value - oldestWaiting.value)}` : "nothing"}{picturesWaiting.value.length > 0 && `, ${plural(picturesWaiting.value.length, "picture")}`}</dd>
        <dt>How old is what I know</dt>
        <dd>{seen()}{tablet.value.n > 0 && `, up to no. ${tablet.value.n}`}</dd>
        <dt>In the backup</dt>
        <dd>{tablet.value.safe_n ? `everything up to no. ${tablet.value.safe_n}` : "nothing is known to be in the backup yet"}</dd>
        {tablet.value.back_ms > 0 && <><dt>The desk was set back</dt><dd>{span(now.value - tablet.value.back_ms)} ago; {tablet.value.back_lost ? `${plural(tablet.value.back_lost, "entry", "entries")} that it lost ${tablet.value.back_lost === 1 ? "is" : "are"} handed in again` : "nothing of yours was lost"}</dd></>}
        <dt>Without network</dt>
        <dd>{offlineReady.value ? "opens" : "does not open from cold"}</dd>
        <dt>Storage</dt>
        <dd>{storageWords.value}</dd>
        {Math.abs(tablet.value.off) > 120_000 && <><dt>Clock</dt><dd>This tablet's clock is off by {span(Math.abs(tablet.value.off))}. Nothing depends on it.</dd></>}
      </dl>
      <div class="stack">
        <Press wide plain run={async () => wake()}>Send now</Press>
        {newer.value && <Press wide run={update}>Update planish</Press>}
        <Press wide plain run={async () => choose(dim ? "light" : "dim")}>{dim ? "Hall light" : "Dim hall"}</Press>
        <Press wide plain run={lock}>Lock this tablet</Press>
        <Press wide plain run={saveFile}>Save my work as a file</Press>
        <p class="quiet">For the desk, when this tablet cannot reach it. Your views stand readable in it: give it to nobody else. Pictures are not in it.</p>
      </div>
      {yours.length > 0 && <Cards of={yours} />}
      <h2>What you did</h2>
      {!own.length && <p>Nothing yet on this tablet.</p>}
      <ul class="ruled">
        {own.slice(0, 200).map((one) => (
          <li key={one.seq}>
            <p><strong>{where(one.sub)}</strong>, {did(one.kind)}</p>
            <p>{ticks(one, tablet.value)}{one.status === "stale" ? ". Somebody changed it first; both are kept" : one.status === "held" ? ". It waits for the chair" : one.status === "denied" ? ". Recorded, not applied" : ""}.</p>
            {one.why && ["held", "denied"].includes(one.status) && <p class="quiet">{one.why}</p>}
          </li>
        ))}
      </ul>
    </Frame>
  );
}

function where(sub: string): string {
  const doc = docs.value.get(sub);
  return doc ? `Stand ${numberOf(doc.stand)}, No. ${doc.number}` : sub.startsWith("u-") ? "Unlisted object" : sub;
}

async function lock(): Promise<void> {
  await release(true);
  holdPin("");
  void ask("lock", { body: {} }).catch(() => {});
  who.value = null;
  await wrote();
}
