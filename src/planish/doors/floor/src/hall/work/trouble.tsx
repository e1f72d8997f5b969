// The screens for when something is wrong with this tablet: each says what is lost, what is not, and the way out.
import { Press } from "../parts/press";
import { changeKept, drop, wipe } from "../outbox/store";
import { NOTHING } from "../outbox/shapes";
import { wake } from "../outbox/sender";
import { load, storeTrouble, tablet, waitingCount, wrote } from "../state";
import { go } from "../go";
import { MARK } from "../start";
import { plural } from "../parts/words";
import { saveFile } from "./export";
import type { ComponentChildren } from "preact";

function Screen({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <div class="floor">
      <header class="top"><span class="giant">planish</span></header>
      <main tabIndex={-1}>
        <div role="alert">
          <h1>{title}</h1>
          {children}
        </div>
      </main>
    </div>
  );
}

export function StorePage() {
  const again = async () => {
    drop();
    await load();
    storeTrouble.value = "";
  };
  return (
    <Screen title="This tablet cannot store now">
      <p>Nothing more is taken in, so that nothing seems to be here that is not. Do not close this page.</p>
      <p>Try again. If it stays, take the tablet to the desk, or save what it holds as a file.</p>
      <div class="stack">
        <Press wide run={again}>Try again</Press>
        <Press wide plain run={saveFile}>Save my work as a file</Press>
      </div>
      <p class="quiet">The browser says: {storeTrouble.value}</p>
    </Screen>
  );
}

export function EmptiedPage() {
  return (
    <Screen title="This browser emptied the tablet">
      <p>What was sent is at the desk. What waited here only, if anything did, is gone; the desk knows the number it was told last.</p>
      <p>Pair the tablet again, as itself: the desk gives it back its number and what it sent.</p>
      <div class="stack">
        <Press wide run={async () => go("pair")}>Pair again</Press>
      </div>
    </Screen>
  );
}

export function StrangePage() {
  return (
    <Screen title="The desk does not know this browser now">
      <p>{plural(waitingCount.value, "entry waits", "entries wait")} here and {waitingCount.value === 1 ? "is" : "are"} not lost. Pair again as the same tablet: the steward sees that it is, and the queue goes in.</p>
      <div class="stack">
        <Press wide run={async () => go("pair")}>Pair again</Press>
        <Press wide plain run={saveFile}>Save my work as a file</Press>
      </div>
    </Screen>
  );
}

export function StuckPage() {
  const again = async () => {
    await changeKept((now) => ({ ...now, state: "paired", trouble: "" }));
    await wrote();
    wake();
  };
  return (
    <Screen title="Stopped: take this tablet to the desk">
      <p>{tablet.value.trouble}</p>
      <p>Nothing was overwritten, and everything you did is still here.</p>
      <div class="stack">
        <Press wide run={saveFile}>Save my work as a file</Press>
        <Press wide plain run={again}>Try once more</Press>
      </div>
    </Screen>
  );
}

export function RevokedPage() {
  const left = waitingCount.value;
  return (
    <Screen title="This tablet was withdrawn">
      <p role="status">{left ? `It hands in what it holds: ${plural(left, "entry", "entries")} left.` : "It has nothing left to hand in."} It shows nothing of the fair any more.</p>
      <p>Bring it to the desk.</p>
    </Screen>
  );
}

export function WipedPage() {
  const fresh = async () => {
    localStorage.removeItem(MARK);
    await wipe(NOTHING);
    await wrote(true);
    go("pair");
  };
  return (
    <Screen title="This tablet was withdrawn">
      <p>Everything it held was handed in, and was then removed from it.</p>
      <div class="stack">
        <Press wide plain run={fresh}>Pair it anew</Press>
      </div>
    </Screen>
  );
}
