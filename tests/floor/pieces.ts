// The tablet's own code, answering on the command line: what Python compares with the ledger's.
import { readFileSync } from "node:fs";
import { answered, batch } from "../../src/planish/doors/floor/src/hall/outbox/batch";
import { digest, hex, sha256, utf8, uuid7 } from "../../src/planish/doors/floor/src/hall/outbox/bytes";
import { compose } from "../../src/planish/doors/floor/src/hall/outbox/compose";
import { PRIVATE } from "../../src/planish/doors/floor/src/hall/outbox/kinds";
import { NOTHING } from "../../src/planish/doors/floor/src/hall/outbox/shapes";
import { follow } from "../../src/planish/doors/floor/src/hall/outbox/taking";
import { DAYWORDS } from "../../src/planish/doors/floor/src/hall/pair/daywords";
import { fourWords, normal } from "../../src/planish/doors/floor/src/hall/pair/fourwords";
import { valuesOf, FORMS } from "../../src/planish/doors/floor/src/hall/object/forms";

const asked = JSON.parse(readFileSync(0, "utf8"));
const answers: Record<string, () => unknown> = {
  sha256: () => asked.hex.map((text: string) => hex(sha256(Uint8Array.from(Buffer.from(text, "hex"))))),
  ids: () => asked.ms.map((ms: number) => uuid7(ms)),
  compose: () => {
    let now = { ...NOTHING, fair: asked.fair, dev: asked.dev, epoch: asked.epoch, n: asked.n };
    return asked.drafts.map((draft: never) => {
      const made = compose(draft, now, asked.t);
      now = made.next;
      return { raw: made.raw, open: made.open, digest: digest(utf8(made.raw)) };
    });
  },
  private: () => PRIVATE,
  daywords: () => DAYWORDS,
  fourwords: () => fourWords(asked.code, asked.desk_key, asked.key, asked.nonce),
  normal: () => asked.codes.map(normal),
  follow: () => follow(asked.hash, asked.after, asked.entries),
  batch: () => batch(asked.rows).rows.length,
  answered: () => answered(asked.rows, asked.results),
  values: () => valuesOf(FORMS[asked.kind]!, asked.figures ?? {}, asked.lines ?? ""),
};
console.log(JSON.stringify(answers[asked.what]!()));
