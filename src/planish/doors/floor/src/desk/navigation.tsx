// Where one can go, by what the reader does at the fair. On a small screen it folds into one line.
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { api } from "../api/client";
import { place, go, to } from "../route";
import { chairs, has, leads, office, votes } from "../session";

interface Way {
  page: string;
  words: string;
  for: () => boolean;
}

const all = () => true;
const looks = () => office() || has("leader", "member", "scribe", "steward", "laboratory", "appeals");
const counts = () => office() || has("leader", "member", "scribe");
const staff = () => office() || has("leader", "member", "scribe", "steward");
const signs = () => office() || has("leader", "steward");
const EVERY_MS = 20_000;

/** How many things wait for this reader's signature. */
export const secondsWaiting = signal(0);
export async function countSeconds(): Promise<void> {
  if (!signs()) return;
  try {
    secondsWaiting.value = (await api.seconds()).for_you.length;
  } catch {
    // the next asking tells; a page in use says itself when the desk is away
  }
}
const GROUPS: { name: string; ways: Way[] }[] = [
  {
    name: "The day",
    ways: [
      { page: "board", words: "Board", for: counts },
      { page: "round", words: "My round", for: votes },
      { page: "objects", words: "Objects", for: looks },
      { page: "open", words: "Open cases", for: () => leads() || office() || has("member", "appeals", "scribe") },
      { page: "cards", words: "Cards", for: () => leads() || office() },
      { page: "questions", words: "Questions", for: looks },
      { page: "wording", words: "Wording", for: staff },
      { page: "like", words: "Like cases", for: () => office() || leads() || has("appeals") },
      { page: "again", words: "Second looks", for: () => office() || leads() || has("member", "scribe") },
      { page: "seals", words: "Seals", for: () => office() || has("steward", "leader") },
      { page: "seconds", words: "Second signatures", for: signs },
      { page: "appeals", words: "Appeals", for: () => office() || has("appeals", "leader") },
      { page: "safe", words: "Safe-keeping", for: () => office() || has("steward", "leader") },
      { page: "print", words: "Print", for: staff },
    ],
  },
  {
    name: "The fair",
    ways: [
      { page: "walk", words: "Set up", for: chairs },
      { page: "rules", words: "Rules", for: all },
      { page: "people", words: "People", for: office },
      { page: "panels", words: "Panels", for: staff },
      { page: "stands", words: "Stands and lists", for: staff },
      { page: "devices", words: "Tablets", for: () => office() || has("steward", "admin") },
      { page: "report", words: "Report", for: () => office() || leads() },
      { page: "record", words: "Backup and archive", for: office },
    ],
  },
  {
    name: "To look up",
    ways: [
      { page: "facts", words: "Facts", for: all },
      { page: "log", words: "The log", for: () => office() || has("auditor") },
      { page: "account", words: "My passphrase", for: all },
    ],
  },
];

/** The page somebody comes to first: the first of those that are theirs. */
export const firstPage = () => GROUPS.flatMap((group) => group.ways).find((way) => way.for())?.page ?? "account";

export function Navigation() {
  const [open, setOpen] = useState(false);
  const { page } = place.value;
  useEffect(() => setOpen(false), [page, place.value.piece]);
  useEffect(() => {
    void countSeconds();
    const ticking = setInterval(() => document.visibilityState === "visible" && void countSeconds(), EVERY_MS);
    return () => clearInterval(ticking);
  }, []);
  return (
    <nav class={`ways ${open ? "open" : ""}`} aria-label="Pages">
      <Search />
      <button type="button" class="plain unfold" aria-expanded={open} onClick={() => setOpen(!open)}>
        Pages
      </button>
      <div class="groups">
        {GROUPS.map((group) => (
          <Group key={group.name} name={group.name} ways={group.ways.filter((way) => way.for())} page={page || firstPage()} />
        ))}
      </div>
    </nav>
  );
}

function Group({ name, ways, page }: { name: string; ways: Way[]; page: string }) {
  if (!ways.length) return null;
  return (
    <>
      <h2>{name}</h2>
      <ul>
        {ways.map((way) => (
          <li key={way.page}>
            <a href={to(way.page)} aria-current={way.page === page ? "page" : undefined}>
              {way.words}
              {way.page === "seconds" && secondsWaiting.value > 0 && <b class="waits"> {secondsWaiting.value} waiting</b>}
            </a>
          </li>
        ))}
      </ul>
    </>
  );
}

function Search() {
  const [words, setWords] = useState("");
  const find = (event: Event) => {
    event.preventDefault();
    if (words.trim()) go("search", "", { q: words.trim() });
  };
  return (
    <form role="search" onSubmit={find} class="search">
      <label for="find">Search everything</label>
      <span class="row">
        <input id="find" type="search" value={words} onInput={(event) => setWords(event.currentTarget.value)} />
        <button type="submit">Find</button>
      </span>
    </form>
  );
}
