// The four words of a pairing: both sides derive them, a steward compares them.
import { join, sha256, utf8 } from "../outbox/bytes";
import { DAYWORDS } from "./daywords";

/** As typed or scanned: capitals, no dashes or spaces, no look-alike letters. */
export const normal = (code: string): string => code.toUpperCase().replace(/[\s-]/g, "").replace(/O/g, "0").replace(/[IL]/g, "1");

/** Four words from what both sides hold; who stands between them cannot make them the same. */
export function fourWords(code: string, deskKey: string, key: string, nonce: string): string[] {
  const zero = Uint8Array.of(0);
  const h = sha256(join(Uint8Array.of(5), utf8(normal(code)), zero, utf8(deskKey), zero, utf8(key), zero, utf8(nonce)));
  return [...h.slice(0, 4)].map((one) => DAYWORDS[one] ?? "");
}
