// Reads seals in any browser or in Node: the same strict rules as planish.ledger.sealing, tested on the same vectors.
// No library, no network. What is not the one exact form of a seal is refused.

const ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
const CROCKFORD = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const CHECK = CROCKFORD + "*~$=U";
const FOLDED = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
const PREFIX = "PLANISH:1:";
const TEXT_LIMIT = 1600, BYTES_LIMIT = 1000, DEPTH = 4, LIST_LIMIT = 4000000;

export class Refused extends Error {}

const no = (why) => { throw new Refused(why); };
export const hex = (bytes) => Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
export const fromHex = (text) => Uint8Array.from(text.match(/../g) ?? [], (pair) => parseInt(pair, 16));
const same = (a, b) => a.length === b.length && a.every((byte, at) => byte === b[at]);

function inOrder(a, b) { // true when a stands strictly before b, byte by byte
  for (let at = 0; at < Math.min(a.length, b.length); at++) if (a[at] !== b[at]) return a[at] < b[at];
  return a.length < b.length;
}

// ---- Base45 (RFC 9285)

export function base45(bytes) {
  let out = "";
  for (let at = 0; at + 1 < bytes.length; at += 2) {
    const n = bytes[at] * 256 + bytes[at + 1];
    out += ALPHABET[n % 45] + ALPHABET[Math.floor(n / 45) % 45] + ALPHABET[Math.floor(n / 2025)];
  }
  if (bytes.length % 2) {
    const n = bytes[bytes.length - 1];
    out += ALPHABET[n % 45] + ALPHABET[Math.floor(n / 45)];
  }
  return out;
}

export function unbase45(text) {
  if (text.length % 3 === 1) no("This is not the code of a seal.");
  const digits = Array.from(text, (letter) => ALPHABET.indexOf(letter));
  if (digits.includes(-1)) no("This is not the code of a seal.");
  const out = [];
  for (let at = 0; at < digits.length; at += 3) {
    const [a, b, c] = digits.slice(at, at + 3);
    const n = a + 45 * b + (c === undefined ? 0 : 2025 * c);
    if (n > (c === undefined ? 255 : 65535)) no("This is not the code of a seal.");
    if (c !== undefined) out.push(n >> 8);
    out.push(n & 255);
  }
  return Uint8Array.from(out);
}

export function fold(bytes) { // base64url without padding
  let out = "";
  for (let at = 0; at < bytes.length; at += 3) {
    const [a, b = 0, c = 0] = bytes.slice(at, at + 3);
    const n = (a << 16) | (b << 8) | c;
    out += FOLDED[n >> 18] + FOLDED[(n >> 12) & 63] + FOLDED[(n >> 6) & 63] + FOLDED[n & 63];
  }
  return out.slice(0, Math.ceil((bytes.length * 4) / 3));
}

export function unfold(text) {
  const digits = Array.from(text, (letter) => FOLDED.indexOf(letter));
  if (digits.includes(-1) || text.length % 4 === 1) no("This is not the code of a seal.");
  const out = [];
  for (let at = 0; at < digits.length; at += 4) {
    const [a, b, c = 0, d = 0] = digits.slice(at, at + 4);
    const n = (a << 18) | (b << 12) | (c << 6) | d;
    out.push(n >> 16, (n >> 8) & 255, n & 255);
  }
  return Uint8Array.from(out.slice(0, Math.floor((text.length * 3) / 4)));
}

// ---- the text of a code

export function openCode(text) {
  if (text.length > TEXT_LIMIT) no("The code is longer than any seal.");
  if (text.startsWith(PREFIX)) {
    const sealed = unbase45(text.slice(PREFIX.length));
    if (PREFIX + base45(sealed) === text) return sealed;
  } else if (text.startsWith("https://") && text.split("#").length === 2) {
    const tail = text.split("#")[1];
    const sealed = unfold(tail);
    if (fold(sealed) === tail) return sealed;
  }
  return no("This is not the code of a seal.");
}

export const sha256 = async (bytes) => new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));

export async function checkCode(sealed) {
  let number = 0n;
  for (const byte of (await sha256(sealed)).slice(0, 5)) number = (number << 8n) | BigInt(byte);
  let letters = "";
  for (let shift = 35n; shift >= 0n; shift -= 5n) letters += CROCKFORD[Number((number >> shift) & 31n)];
  return `${letters.slice(0, 4)}-${letters.slice(4)}-${CHECK[Number(number % 37n)]}`;
}

export function tidyCheckCode(typed) {
  let plain = typed.toUpperCase().replace(/[- ]/g, "");
  plain = plain.slice(0, -1).replace(/O/g, "0").replace(/[IL]/g, "1") + plain.slice(-1);
  const digits = Array.from(plain.slice(0, 8), (letter) => CROCKFORD.indexOf(letter));
  if (plain.length !== 9 || digits.includes(-1)) no("A check code has eight letters or figures and a last sign.");
  const number = digits.reduce((sum, digit) => (sum << 5n) | BigInt(digit), 0n);
  if (CHECK[Number(number % 37n)] !== plain[8]) no("The last sign does not fit the others; please look at the code again.");
  return `${plain.slice(0, 4)}-${plain.slice(4, 8)}-${plain[8]}`;
}

// ---- the little CBOR of a seal (RFC 8949, 4.2.1): one deterministic item, nothing after it

export function readCbor(data) {
  if (data.length > BYTES_LIMIT) no("longer than a seal");
  const reader = { data, at: 0 };
  const value = item(reader, 0);
  if (reader.at !== data.length) no("something follows the end");
  return value;
}

function take(reader, size) {
  if (size > reader.data.length - reader.at) no("cut short");
  reader.at += Number(size);
  return reader.data.slice(reader.at - Number(size), reader.at);
}

function head(reader) {
  const first = take(reader, 1)[0];
  const code = first & 31;
  if (code < 24) return [first >> 5, code];
  if (code > 27) no("an indefinite or reserved length");
  const size = 1 << (code - 24);
  const number = take(reader, size).reduce((sum, byte) => (sum << 8n) | BigInt(byte), 0n);
  if (number < 24n || (size > 1 && number < 1n << BigInt(4 * size))) no("a longer form of a number than it needs");
  return [first >> 5, number <= 9007199254740991n ? Number(number) : number];
}

function fits(reader, count) {
  if (count > reader.data.length - reader.at) no("cut short");
  return Number(count);
}

function item(reader, depth) {
  if (depth > DEPTH) no("too deep");
  const [major, number] = head(reader);
  if (major === 0) return number;
  if (major === 1) return typeof number === "bigint" ? -1n - number : -1 - number;
  if (major === 2) return take(reader, number);
  if (major === 3) return text(take(reader, number));
  if (major === 4) return Array.from({ length: fits(reader, number) }, () => item(reader, depth + 1));
  if (major === 5) return map(reader, fits(reader, number), depth);
  if (major === 6 && number === 18 && depth === 0) return { tag: 18, value: item(reader, 1) };
  return no("a kind of item that no seal holds");
}

function text(bytes) {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return no("text that is not UTF-8");
  }
}

function map(reader, count, depth) {
  const found = new Map();
  let last = new Uint8Array();
  for (let n = 0; n < count; n++) {
    const start = reader.at;
    const key = item(reader, depth + 1);
    const raw = reader.data.slice(start, reader.at);
    if (!["number", "bigint", "string"].includes(typeof key) || !inOrder(last, raw)) no("map keys out of order");
    last = raw;
    found.set(key, item(reader, depth + 1));
  }
  return found;
}

// ---- COSE_Sign1 (RFC 9052) with Ed25519, in the one form that planish writes

const bytesHead = (bytes) => bytes.length < 24 ? [0x40 | bytes.length]
  : bytes.length < 256 ? [0x58, bytes.length] : [0x59, bytes.length >> 8, bytes.length & 255];

function toBeSigned(guarded, payload) {
  const name = new TextEncoder().encode("Signature1");
  return Uint8Array.from([0x84, 0x60 | name.length, ...name, ...bytesHead(guarded), ...guarded, 0x40, ...bytesHead(payload), ...payload]);
}

const isBytes = (value) => value instanceof Uint8Array;

async function signed(message, keys) {
  const outer = readCbor(message);
  const parts = outer instanceof Object && outer.tag === 18 && Array.isArray(outer.value) ? outer.value : [];
  const [guarded, open, payload, signature] = parts;
  const shaped = parts.length === 4 && isBytes(guarded) && open instanceof Map && open.size === 0 && isBytes(payload) && isBytes(signature);
  if (!shaped || signature.length !== 64) no("not in the form of a seal");
  const header = readCbor(guarded);
  const kid = header instanceof Map && header.size === 2 && header.get(1) === -8 ? header.get(4) : undefined;
  if (!isBytes(kid) || kid.length !== 8) no("its header is not that of a seal");
  for (const key of keys) { // two keys may share the 8 bytes of an id: all of them are tried
    if (same(fromHex(key.id), kid) && await verify(key, signature, toBeSigned(guarded, payload))) return [payload, key];
  }
  return no("not signed by a key that is known here");
}

async function verify(key, signature, message) {
  const imported = await crypto.subtle.importKey("raw", fromHex(key.ed25519), { name: "Ed25519" }, false, ["verify"]);
  return crypto.subtle.verify({ name: "Ed25519" }, imported, signature, message);
}

/** Whether this browser can check a signature at all: it needs WebCrypto (so https, or a file) with Ed25519. */
export async function canCheck() {
  try {
    const one = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a"; // RFC 8032, 7.1, test 1
    const two = "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b";
    return await verify({ ed25519: one }, fromHex(two), new Uint8Array());
  } catch {
    return false;
  }
}

// ---- the payload

const NAMES = ["form", "fair", "stand", "number", "version", "day", "words", "digest", "compare", "picture"];

/** The words that `sealed` seals under one of `keys` ({id, ed25519} in hex), or Refused. */
export async function openSeal(sealed, keys) {
  let payload, key, content;
  try {
    [payload, key] = await signed(sealed, keys);
    content = readCbor(payload);
  } catch (error) {
    if (error instanceof Refused) no(`This is not a seal that can be checked here: ${error.message}.`);
    throw error;
  }
  return words(content, key);
}

function words(content, key) {
  const known = content instanceof Map && content.get(0) === 1 && [...content.keys()].every((k) => Number.isInteger(k) && k >= 0 && k < 10);
  if (!known) no("This seal is of a form that is not known here.");
  const said = Object.fromEntries(NAMES.map((name, at) => [name, content.get(at)]));
  const empty = [6, 7, 8, 9].some((at) => content.has(at) && !content.get(at).length);
  if (empty) no("This seal holds an empty field, which no seal does.");
  const { words: said_words = "", digest = new Uint8Array(), compare = [], picture = new Uint8Array() } = said;
  const made = { ...said, words: said_words, digest, compare, picture, key };
  const texts = [made.fair, made.stand, made.number, made.day, made.words];
  const shaped = texts.every((t) => typeof t === "string") && isBytes(digest) && isBytes(picture) && Array.isArray(compare) && compare.every((t) => typeof t === "string");
  if (!shaped || !["number", "bigint"].includes(typeof made.version) || made.version < 1) no("This seal lacks something that every seal holds.");
  if (!/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(made.day)) no("Its day is not a date.");
  if (!made.words === !digest.length || ![0, 32].includes(digest.length)) no("A seal holds either the words or their digest.");
  if ([made.fair, made.stand, made.number].some((t) => Array.from(t).length > 64)) no("A field of it is too long.");
  return made;
}

// ---- the signed list of seals that no longer stand

const number4 = (bytes) => new DataView(bytes.buffer, bytes.byteOffset, 4).getUint32(0);

export async function readList(data, keys) {
  const day = String.fromCharCode(...data.slice(16, 26));
  const magic = String.fromCharCode(...data.slice(0, 8));
  if (data.length < 99 || data.length > LIST_LIMIT || magic !== "PLSEALS1" || !/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(day)) no("This is not a list of seals.");
  const said = data.slice(0, -64);
  let known = false;
  for (const key of keys) known ||= key.id === hex(data.slice(8, 16)) && await verify(key, data.slice(-64), said);
  if (!known) no("The list is not signed by a key that is known here.");
  const at = 27 + data[26];
  if (said.length < at + 8) no("The list is cut short or too long.");
  const [superseded, revoked] = [number4(said.slice(at, at + 4)), number4(said.slice(at + 4, at + 8))];
  const rest = said.slice(at + 8);
  if (rest.length !== 16 * (superseded + revoked)) no("The list is cut short or too long.");
  const rows = Array.from({ length: superseded + revoked }, (_, n) => rest.slice(16 * n, 16 * n + 16));
  return { fair: text(said.slice(27, at)), day, superseded: rising(rows.slice(0, superseded)), revoked: rising(rows.slice(superseded)) };
}

function rising(rows) {
  if (rows.some((row, at) => at > 0 && !inOrder(rows[at - 1], row))) no("The list is out of order.");
  return new Set(rows.map(hex));
}

/** "superseded" or "revoked" when the list names this seal, "" when it does not. */
export async function stateInList(list, sealed) {
  const short = hex((await sha256(sealed)).slice(0, 16));
  return list.revoked.has(short) ? "revoked" : list.superseded.has(short) ? "superseded" : "";
}
