// Bytes, digests and ids that work without a secure context: plain HTTP has getRandomValues and no crypto.subtle.
const writer = new TextEncoder();

export const utf8 = (text: string): Uint8Array => writer.encode(text);

export function hex(bytes: Uint8Array): string {
  let text = "";
  for (const one of bytes) text += one.toString(16).padStart(2, "0");
  return text;
}

export function unhex(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length / 2);
  for (let at = 0; at < bytes.length; at += 1) bytes[at] = Number.parseInt(text.slice(2 * at, 2 * at + 2), 16);
  return bytes;
}

export function join(...parts: Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, one) => sum + one.length, 0));
  let at = 0;
  for (const one of parts) {
    whole.set(one, at);
    at += one.length;
  }
  return whole;
}

export function base64(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

export function chance(length: number): Uint8Array {
  return crypto.getRandomValues(new Uint8Array(length));
}

/** UUIDv7 (RFC 9562, section 5.7): 48 bits of ms, then random bits. Never a secret, never an order. */
export function uuid7(ms: number, random = chance(10)): string {
  const bytes = new Uint8Array(16);
  for (let at = 0; at < 6; at += 1) bytes[at] = Math.floor(ms / 2 ** (8 * (5 - at))) % 256;
  bytes.set(random, 6);
  bytes[6] = 0x70 | ((bytes[6] ?? 0) & 0x0f);
  bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
  const text = hex(bytes);
  return [text.slice(0, 8), text.slice(8, 12), text.slice(12, 16), text.slice(16, 20), text.slice(20)].join("-");
}

const primes: number[] = [];
for (let n = 2; primes.length < 64; n += 1) if (primes.every((one) => n % one)) primes.push(n);
const part = (root: number) => ((root - Math.floor(root)) * 2 ** 32) | 0;
const K = primes.map((one) => part(Math.cbrt(one)));
const BEGIN = primes.slice(0, 8).map((one) => part(Math.sqrt(one)));
const turn = (word: number, by: number) => (word >>> by) | (word << (32 - by));

/** SHA-256 (FIPS 180-4) in script: works at once inside a database transaction, and without a secure context. */
export function sha256(data: Uint8Array): Uint8Array {
  const state = Int32Array.from(BEGIN);
  const w = new Int32Array(64);
  const length = Math.ceil((data.length + 9) / 64) * 64;
  const tail = new Uint8Array(length - Math.floor(data.length / 64) * 64);
  const whole = length - tail.length;
  tail.set(data.subarray(whole));
  tail[data.length - whole] = 0x80;
  const view = new DataView(tail.buffer);
  view.setUint32(tail.length - 8, Math.floor(data.length / 2 ** 29));
  view.setUint32(tail.length - 4, (data.length * 8) >>> 0);
  const head = new DataView(data.buffer, data.byteOffset, data.length);
  for (let at = 0; at < whole; at += 64) block(state, w, head, at);
  for (let at = 0; at < tail.length; at += 64) block(state, w, view, at);
  const out = new DataView(new ArrayBuffer(32));
  state.forEach((word, n) => out.setInt32(4 * n, word));
  return new Uint8Array(out.buffer);
}

function block(state: Int32Array, w: Int32Array, view: DataView, at: number): void {
  for (let t = 0; t < 16; t += 1) w[t] = view.getInt32(at + 4 * t);
  for (let t = 16; t < 64; t += 1) {
    const a = w[t - 15]!;
    const b = w[t - 2]!;
    const s0 = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3);
    const s1 = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
    w[t] = (w[t - 16]! + s0 + w[t - 7]! + s1) | 0;
  }
  let [a, b, c, d, e, f, g, h] = state as unknown as [number, number, number, number, number, number, number, number];
  for (let t = 0; t < 64; t += 1) {
    const s1 = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const one = (h + s1 + ((e & f) ^ (~e & g)) + K[t]! + w[t]!) | 0;
    const s0 = turn(a, 2) ^ turn(a, 13) ^ turn(a, 22);
    const two = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((word, n) => {
    state[n] = (state[n]! + word) | 0;
  });
}

export const digest = (data: Uint8Array): string => hex(sha256(data));
