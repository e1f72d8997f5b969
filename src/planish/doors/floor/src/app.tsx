// The shell: who is here, where one can go, what the page is called.
import { useEffect, useRef } from "preact/hooks";
import { CounterArea } from "./counter/area";
import { DeskPage, titleOf } from "./desk/area";
import { Navigation } from "./desk/navigation";
import { ProblemNote } from "./parts/notes";
import { place } from "./route";
import { leave, look, me, now, unreachable } from "./session";
import { SetUpPage } from "./start/setup";
import { SignInPage } from "./start/signin";
import { choose, theme } from "./theme";

export function App() {
  useEffect(() => {
    void look();
  }, []);
  return (
    <>
      <a class="skip" href="#main" onClick={skip}>
        To the page
      </a>
      <Head />
      <Body />
    </>
  );
}

function skip(event: Event) {
  event.preventDefault();
  document.getElementById("main")?.focus();
}

function Head() {
  const dim = theme.value === "dim";
  return (
    <header class="head">
      <p class="name">
        <a href="#/">planish</a>
        {now.value?.fair && <span class="fair"> · {now.value.fair}</span>}
      </p>
      <p class="who">
        <button type="button" class="plain" onClick={() => choose(dim ? "light" : "dim")}>
          {dim ? "Hall light" : "Dim hall"}
        </button>
        {me.value && (
          <>
            <span class="signed">{me.value.name}</span>
            <button type="button" class="plain" onClick={() => void leave()}>
              Sign out
            </button>
          </>
        )}
      </p>
    </header>
  );
}

function Body() {
  if (unreachable.value) {
    return (
      <Main title="planish">
        <ProblemNote of={unreachable.value} />
        <button type="button" onClick={() => void look()}>
          Try again
        </button>
      </Main>
    );
  }
  const session = now.value;
  if (!session) return <Main title="planish"><p role="status">Opening …</p></Main>;
  if (session.set_up_needed) return <Main title="Make a fair"><SetUpPage /></Main>;
  if (!me.value) return <Main title="Sign in"><SignInPage /></Main>;
  if (me.value.kind === "card") return <Main title="Your stand"><CounterArea /></Main>;
  return (
    <div class="sides">
      <Navigation />
      <Main title={titleOf(place.value.page)}>
        <DeskPage />
      </Main>
    </div>
  );
}

function Main({ title, children }: { title: string; children: preact.ComponentChildren }) {
  const at = useRef<HTMLElement>(null);
  const { page, piece, more } = place.value;
  const first = useRef(true);
  useEffect(() => {
    document.title = `${title} · planish`;
    if (!first.current) at.current?.focus({ preventScroll: true });
    first.current = false;
  }, [title, page, piece, more]);
  return (
    <main id="main" tabIndex={-1} ref={at}>
      {children}
    </main>
  );
}
