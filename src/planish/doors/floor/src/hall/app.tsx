// The floor: trouble first, then pairing, then the PIN, then the page that is asked for.
import { useEffect } from "preact/hooks";
import { BallotPage } from "./ballot/ballot";
import { place } from "./go";
import { IncidentPage, UnlistedPage, WherePage } from "./object/where";
import { LookPage } from "./object/look";
import { ObjectPage } from "./object/page";
import { PairPage } from "./pair/pair";
import { UnlockPage } from "./keys/unlock";
import { RoundPage } from "./round/round";
import { ShelfPage, StandPage } from "./round/stand";
import { opened, storeTrouble, tablet, who } from "./state";
import { EmptiedPage, RevokedPage, StorePage, StrangePage, StuckPage, WipedPage } from "./work/trouble";
import { WorkPage } from "./work/work";
import { WordsPage } from "./words/words";
import { MARK } from "./start";

const PAGES: Record<string, () => preact.JSX.Element> = {
  "": RoundPage,
  stand: StandPage,
  shelf: ShelfPage,
  object: ObjectPage,
  ballot: BallotPage,
  look: LookPage,
  where: WherePage,
  incident: IncidentPage,
  unlisted: UnlistedPage,
  words: WordsPage,
  work: WorkPage,
};

export function App() {
  const { page, piece } = place.value;
  useEffect(() => {
    document.querySelector<HTMLElement>("main")?.focus({ preventScroll: true });
  }, [page, piece, who.value?.id, tablet.value.state]);
  useEffect(() => {
    const named = document.querySelector("h1")?.textContent;
    document.title = `${named ? `${named} · ` : ""}planish`;
  });
  const { state } = tablet.value;
  if (storeTrouble.value) return <StorePage />;
  if (!opened.value) return <main class="floor"><p role="status">Opening …</p></main>;
  if (state === "wiped") return <WipedPage />;
  if (state === "stuck") return <StuckPage />;
  if (state === "revoked") return <RevokedPage />;
  if (page === "pair" || state === "waiting") return <PairPage />;
  if (state === "strange") return <StrangePage />;
  if (state === "none") return localStorage.getItem(MARK) ? <EmptiedPage /> : <PairPage />;
  if (!who.value) return <UnlockPage />;
  const Page = PAGES[page] ?? RoundPage;
  return <Page key={`${page}/${place.value.piece}`} />;
}
