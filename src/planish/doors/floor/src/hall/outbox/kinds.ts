// The kinds a tablet writes, newest version, with the fields that travel as commitments.
// tests/floor holds this table against the ledger's own.
export const PRIVATE: Record<string, readonly string[]> = {
  "object.presented": [],
  "object.not_found": ["note"],
  "object.unlisted": ["text"],
  "observation.made": ["words", "instrument", "spot", "surface", "more"],
  "picture.taken": ["note"],
  "ballot.locked": ["ballot"],
  "ballot.recused": ["reason"],
  "incident.noted": ["words"],
  "question.asked": ["words"],
  "label.asked": ["text", "reason"],
  "label.checked": ["note"],
  "outcome.proposed": ["reasons", "trace"],
  "object.moved": ["condition"],
};
