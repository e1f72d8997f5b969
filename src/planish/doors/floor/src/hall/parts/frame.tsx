// What stands on every floor page: the stand in giant figures, where the work is, the way to note an incident.
import type { ComponentChildren } from "preact";
import { to } from "../go";
import { undo } from "../round/doing";
import { numberOf } from "../round/standing";
import { cards, deskTrouble, held, line, now, oldestWaiting, picturesWaiting, tablet, waitingCount, who } from "../state";
import { newer } from "./update";
import { setBack, warnings } from "./warnings";
import { plural, span } from "./words";

interface Framed {
  stand?: string;
  title: string;
  small?: ComponentChildren;
  bar?: ComponentChildren;
  children: ComponentChildren;
  still?: boolean;
}

export function Frame({ stand, title, small, bar, children, still }: Framed) {
  return (
    <div class={still ? "floor still" : "floor"}>
      <header class="top">
        {stand ? (
          <a class="giant" href={to("stand", stand)} aria-label={`Stand ${numberOf(stand)}, all objects`}>
            <span class="of">Stand</span> {numberOf(stand)}
          </a>
        ) : (
          <a class="giant" href="#/">planish</a>
        )}
        <a class="incident" href={to("incident", stand ?? "")}>
          Incident
        </a>
      </header>
      <WorkLine />
      <main tabIndex={-1}>
        <h1>{title}</h1>
        {small}
        {children}
        <Foot stand={stand} />
      </main>
      <div class="low">
        <Undo />
        {bar && <nav class="bar" aria-label="What to do">{bar}</nav>}
      </div>
    </div>
  );
}

/** Waiting count, oldest waiting, how old is what I know, and every loss of this browser, in words, on every page. */
export function WorkLine() {
  const count = waitingCount.value;
  const open = cards.value.filter((one) => !one.closed && one.who === who.value?.id).length;
  const age = now.value - oldestWaiting.value;
  const waits = count ? `${count} on this tablet only${age < 60_000 ? "" : `, oldest ${span(age)}`}` : "All at the desk";
  const pictures = picturesWaiting.value.length;
  return (
    <aside class="work" aria-label="Where the work is">
      <a href={to("work")}>
        <span>
          <strong>{waits}</strong>
          {pictures > 0 && `, ${plural(pictures, "picture")} to send`} · {seen()}
          {open > 0 && <> · {plural(open, "card")} for you</>}
        </span>
      </a>
      {warnings.value.map((one) => (
        <p key={one} class="warn">
          {one}
        </p>
      ))}
      {setBack.value && <p class="warn">{setBack.value}</p>}
      {deskTrouble.value && <p class="warn" role="alert">{deskTrouble.value}</p>}
      {newer.value && (
        <p class="warn">
          A newer planish is ready. <a href={to("work")}>Update when no form is open</a>
        </p>
      )}
    </aside>
  );
}

export function seen(): string {
  const at = tablet.value.seen_ms;
  if (!at) return "desk not seen yet";
  const words = now.value - at < 15_000 ? "desk seen now" : `desk seen ${span(now.value - at)} ago`;
  return line.value === "unlock" ? `${words}, asks for the PIN` : words;
}

function Undo() {
  const last = held.value.filter((one) => one.due > now.value).at(-1);
  return (
    <div aria-live="polite">
      {last && (
        <div class="undo">
          <span>
            {last.words}, on this tablet
          </span>
          <button type="button" class="plain" onClick={() => void undo(last.key as number)}>
            Take back <span aria-hidden="true">{Math.min(10, Math.max(1, Math.ceil((last.due - now.value) / 1000)))}</span>
          </button>
        </div>
      )}
    </div>
  );
}

function Foot({ stand }: { stand?: string }) {
  return (
    <footer class="foot">
      {stand && <a class="button plain" href={to("unlisted", stand)}>Unlisted object here</a>}
      <a class="button plain" href="#/">My round</a>
      <a class="button plain" href={to("work")}>My work and this tablet</a>
    </footer>
  );
}
