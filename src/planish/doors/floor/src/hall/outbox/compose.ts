// One event, serialised once. Private fields lie in `raw` only as salted commitments; their readable side travels beside it.
import { chance, digest, hex, join, utf8, uuid7 } from "./bytes";
import { PRIVATE } from "./kinds";
import type { Draft, Kept, Opening } from "./shapes";

/** c = SHA-256(0x02 ‖ salt ‖ path ‖ 0 ‖ value), as hex. */
export function commitment(salt: Uint8Array, path: string, value: string): string {
  return digest(join(Uint8Array.of(2), salt, utf8(path), Uint8Array.of(0), utf8(value)));
}

/** Half a surrogate pair cannot be written as UTF-8; a browser's field can hold one. */
const whole = (value: unknown): unknown =>
  typeof value === "string" ? value.replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, "\ufffd") : value;

export function commit(kind: string, body: Record<string, unknown>): { shown: Record<string, unknown>; open: Opening[] } {
  const hidden = PRIVATE[kind.split("/")[0] ?? ""] ?? [];
  const shown: Record<string, unknown> = {};
  const open: Opening[] = [];
  for (const [path, value] of Object.entries(body)) {
    if (value === undefined || value === "") continue;
    if (!hidden.includes(path)) {
      shown[path] = whole(value);
      continue;
    }
    const salt = chance(32);
    const text = JSON.stringify(whole(value));
    shown[path] = { c: commitment(salt, path, text) };
    open.push({ path, salt: hex(salt), value: text });
  }
  return { shown, open };
}

/** The bytes of the event that follows `now.seq`; `now` goes on by one. */
export function compose(draft: Draft, now: Kept, t: number): { raw: string; id: string; open: Opening[]; next: Kept } {
  const { shown, open } = commit(draft.kind, draft.body);
  const id = uuid7(t);
  const seq = now.seq + 1;
  const raw = JSON.stringify({
    v: 1,
    fair: now.fair,
    dev: now.dev,
    seq,
    dprev: now.dprev,
    id,
    who: draft.who,
    kind: draft.kind,
    sub: draft.sub,
    ...(draft.base === undefined ? {} : { base: draft.base }),
    seen: { epoch: now.epoch, n: now.n },
    t,
    off: now.off,
    body: shown,
    att: draft.att ?? [],
  });
  return { raw, id, open, next: { ...now, seq, dprev: digest(utf8(raw)) } };
}
