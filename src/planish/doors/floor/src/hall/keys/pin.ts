// The PIN on this tablet. It keeps the next hand out while the hall has no network; the desk asks for it again when it can.
// It does not protect a copied disk: eight digits can be tried out. The tablet's own encryption does that.
import { chance, hex, join, sha256, unhex, utf8 } from "../outbox/bytes";
import type { Lock } from "../outbox/shapes";
import { recall, remember } from "../outbox/store";
import { canSign } from "./device";

const TRIES = 5;
const WAIT_MS = 5 * 60_000;
/** PBKDF2-HMAC-SHA256: the OWASP password storage sheet asks for 600,000 rounds. Script takes fewer: it is slower. */
const ROUNDS = 600_000;
const SCRIPT_ROUNDS = 60_000;

async function hashed(pin: string, salt: Uint8Array, rounds: number): Promise<string> {
  if (rounds >= ROUNDS) {
    const key = await crypto.subtle.importKey("raw", utf8(pin) as BufferSource, "PBKDF2", false, ["deriveBits"]);
    const how = { name: "PBKDF2", hash: "SHA-256", salt: salt as BufferSource, iterations: rounds };
    return hex(new Uint8Array(await crypto.subtle.deriveBits(how, key, 256)));
  }
  let now = sha256(join(salt, utf8(pin)));
  for (let turn = 1; turn < rounds; turn += 1) now = sha256(join(salt, now));
  return hex(now);
}

/** Keep what is needed to know the PIN again without the desk. */
export async function keepPin(who: string, pin: string): Promise<void> {
  const salt = chance(32);
  const rounds = canSign() ? ROUNDS : SCRIPT_ROUNDS;
  const lock: Lock = { who, salt: hex(salt), rounds, hash: await hashed(pin, salt, rounds), wrong: 0, until: 0 };
  await remember(`lock:${who}`, lock);
}

export type Tried = "right" | "wrong" | "wait" | "unknown";

/** Does the PIN open this tablet for this person? Five wrong tries, then five minutes. */
export async function tryPin(who: string, pin: string): Promise<Tried> {
  const lock = await recall<Lock>(`lock:${who}`);
  if (!lock) return "unknown";
  if (lock.until > Date.now() && lock.until - Date.now() <= WAIT_MS) return "wait";
  const right = (await hashed(pin, unhex(lock.salt), lock.rounds)) === lock.hash;
  const wrong = right ? 0 : lock.wrong + 1;
  const until = wrong >= TRIES ? Date.now() + WAIT_MS : 0;
  await remember(`lock:${who}`, { ...lock, wrong: wrong >= TRIES ? 0 : wrong, until });
  return right ? "right" : "wrong";
}

export const forgetPin = (who: string): Promise<void> => remember(`lock:${who}`, undefined);
