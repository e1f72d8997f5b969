// Which page stands at which address.
import type { FunctionComponent } from "preact";
import { place } from "../route";
import { AccountPage } from "./account";
import { AgainPage } from "./again";
import { AppealPage, AppealsPage } from "./appeals";
import { OpenCasesPage } from "./cases";
import { BallotPage } from "./ballot";
import { BoardPage } from "./board";
import { CardsPage } from "./cards";
import { DevicesPage } from "./devices";
import { FactPage, FactsPage } from "./facts";
import { IntakePage } from "./intake";
import { UnlikePage } from "./like";
import { LogPage } from "./log";
import { firstPage } from "./navigation";
import { ObjectPage } from "./object";
import { ObjectsPage } from "./objects";
import { PanelsPage } from "./panels";
import { PeoplePage } from "./people";
import { PrintPage } from "./print";
import { QuestionsPage } from "./questions";
import { RecordPage } from "./record";
import { ReportPage } from "./report";
import { RoundPage } from "./round";
import { RulesPage } from "./rules";
import { SafePage } from "./safe";
import { SearchPage } from "./search";
import { SealsPage } from "./seals";
import { SecondsPage } from "./seconds";
import { StandsPage } from "./stands";
import { WalkPage } from "./walk";
import { WordingPage, WordsPage } from "./wording";

const PAGES: Record<string, [string, FunctionComponent]> = {
  board: ["Board", BoardPage],
  round: ["My round", RoundPage],
  objects: ["Objects", ObjectsPage],
  object: ["Object", ObjectPage],
  ballot: ["Your view", BallotPage],
  words: ["Words", WordsPage],
  open: ["Open cases", OpenCasesPage],
  cards: ["Cards", CardsPage],
  devices: ["Tablets", DevicesPage],
  questions: ["Questions", QuestionsPage],
  wording: ["Wording", WordingPage],
  like: ["Like cases", UnlikePage],
  again: ["Second looks", AgainPage],
  appeals: ["Appeals", AppealsPage],
  appeal: ["Appeal", AppealPage],
  seals: ["Seals", SealsPage],
  seconds: ["Second signatures", SecondsPage],
  safe: ["Safe-keeping", SafePage],
  print: ["Print", PrintPage],
  walk: ["Set up", WalkPage],
  rules: ["Rules", RulesPage],
  people: ["People", PeoplePage],
  panels: ["Panels", PanelsPage],
  stands: ["Stands and lists", StandsPage],
  list: ["A list on its way in", IntakePage],
  report: ["Report", ReportPage],
  record: ["Safe keeping of the record", RecordPage],
  facts: ["Facts", FactsPage],
  fact: ["Fact", FactPage],
  log: ["The log", LogPage],
  search: ["Found", SearchPage],
  account: ["My passphrase", AccountPage],
};

export const titleOf = (page: string) => (PAGES[page || firstPage()] ?? ["Not here", null])[0];

export function DeskPage() {
  const { page, piece } = place.value;
  const found = PAGES[page || firstPage()];
  if (!found) {
    return (
      <>
        <h1>There is nothing at this address</h1>
        <p>
          Choose a page from the list, or <a href="#/">go to your first page</a>.
        </p>
      </>
    );
  }
  const Page = found[1];
  return <Page key={`${page}/${piece}`} />;
}
