// The device's key: ECDSA P-256, made here and never given out. Plain HTTP has no WebCrypto: then events go unsigned.
import { base64, utf8 } from "../outbox/bytes";
import { recall, remember } from "../outbox/store";

const CURVE = { name: "ECDSA", namedCurve: "P-256" };
const SIGN = { name: "ECDSA", hash: "SHA-256" };

export const canSign = (): boolean => Boolean(globalThis.crypto?.subtle);

/**
 * The public half as SPKI base64, made when there is none yet; "" where there is no WebCrypto.
 * It stays when the tablet is paired again: what waits was signed with it.
 */
export async function theKey(): Promise<string> {
  if (!canSign()) return "";
  const known = await recall<string>("key_shown");
  if (known && (await recall("key"))) return known;
  const pair = await crypto.subtle.generateKey(CURVE, false, ["sign", "verify"]);
  const shown = base64(new Uint8Array(await crypto.subtle.exportKey("spki", pair.publicKey)));
  await remember("key", pair.privateKey);
  await remember("key_shown", shown);
  return shown;
}

/** The signature over the bytes of `raw`, base64 of r‖s; "" without a key. */
export async function sign(raw: string): Promise<string> {
  if (!canSign()) return "";
  const key = await recall<CryptoKey>("key");
  if (!key) return "";
  return base64(new Uint8Array(await crypto.subtle.sign(SIGN, key, utf8(raw) as BufferSource)));
}

/** True when the desk that answers holds the key that was seen at pairing; null where it cannot be checked. */
export async function sameDesk(deskKey: string, said: string, sig: string): Promise<boolean | null> {
  if (!canSign() || !deskKey) return null;
  const bytes = (text: string) => Uint8Array.from(atob(text), (one) => one.charCodeAt(0)) as BufferSource;
  try {
    const key = await crypto.subtle.importKey("spki", bytes(deskKey), CURVE, false, ["verify"]);
    return await crypto.subtle.verify(SIGN, key, bytes(sig), utf8(said) as BufferSource);
  } catch {
    return false;
  }
}
