// The trade's words for what the desk calls by short names.
export const EXAMINATION: Record<string, string> = {
  listed: "listed, unseen",
  presented: "laid before the panel",
  examining: "being examined",
  opinions_in: "opinions in",
  proposed: "outcome proposed",
  confirmed: "confirmed",
  final: "final",
  unlisted: "not on the list",
  not_found: "not found",
  not_seen: "not seen",
  paper_due: "paper due",
  referred: "referred",
  withdrawn: "taken out of the fair",
  under_appeal: "under appeal",
  reopened: "reopened",
};
export const LABEL: Record<string, string> = {
  draft: "draft",
  as_hung: "as hung",
  asked: "other words asked",
  agreed: "words agreed",
  printed: "printed",
  checked: "hung and checked",
  sealed: "sealed",
  superseded: "superseded",
};
export const WHERE: Record<string, string> = {
  exhibitor: "with the exhibitor",
  stand: "on the stand",
  table: "on the table",
  laboratory: "at the laboratory",
  safe_keeping: "in safe-keeping",
  sold_store: "in the store for sold pieces",
  left_hall: "left the hall",
};
export const TRADE: Record<string, string> = {
  for_sale: "for sale",
  not_for_sale: "not for sale",
  on_loan: "on loan",
  reserved: "reserved",
  sold: "sold",
  sold_subject: "sold subject to vetting",
};
export const HOLD: Record<string, string> = {
  stolen_query: "a stolen-goods query",
  species: "a protected species",
  assay: "assay law",
  paper: "an import or export paper",
  incident: "an incident",
  dispute: "a dispute",
  other: "something else",
};
export const ROLES = ["office", "chair", "deputy", "leader", "member", "scribe", "steward", "laboratory", "appeals", "auditor"];
export const URGENCY: Record<number, string> = {
  1: "off the stand now",
  2: "before the opening",
  3: "today",
  4: "advice",
};
/** A sentence without the brackets that name its facts and sources: they stand below it. */
export const bare = (sentence: string) =>
  sentence
    .replace(/\s*\[[^\]]*; (?:found|found, partly from memory|memory|derived|practice)\]/g, "")
    .replace(/\s*\(source: .*?\)(?=[.;,]|$)/g, "")
    .replace(/(?<!\.)\.\.(?!\.)/g, ".");
export const plain = (words: string) => words.replace(/_/g, " ");
export const choices = (of: Record<string, string>, first: string) => [
  { value: "", words: first },
  ...Object.entries(of).map(([value, words]) => ({ value, words })),
];
export const day = (iso: string) => new Date(`${iso}T12:00:00`).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
export const when = (iso: string) =>
  new Date(iso).toLocaleString("en-GB", { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
