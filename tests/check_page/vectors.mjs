// Reads the shared vectors with the page's own code; prints one line for each that differs from what Python found.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [place, vectors] = process.argv.slice(2);
const { Refused, canCheck, checkCode, hex, fromHex, openCode, openSeal, readList } = await import(pathToFileURL(`${place}/seal.js`));
const { keys, texts, list } = JSON.parse(readFileSync(vectors, "utf-8"));

async function opened(text) {
  try {
    const sealed = openCode(text);
    const words = await openSeal(sealed, keys);
    const { fair, stand, number, day } = words;
    return { fair, stand, number, version: String(words.version), day, words: words.words, digest: hex(words.digest), compare: words.compare, picture: hex(words.picture), check: await checkCode(sealed) };
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return null;
  }
}

async function listed(data) {
  try {
    const { superseded, revoked } = await readList(fromHex(data), keys);
    return JSON.stringify([[...superseded], [...revoked]]);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return null;
  }
}

let wrong = 0;
const differ = (name, ours, theirs) => {
  if (JSON.stringify(ours) === JSON.stringify(theirs)) return;
  wrong += 1;
  console.log(`${name}: ${JSON.stringify(ours)} where Python has ${JSON.stringify(theirs)}`);
};
if (!(await canCheck())) console.log(`no Ed25519 here: ${wrong += 1}`);
for (const { name, text, opens } of texts) differ(name, await opened(text), opens);
differ("the list", await listed(list.good), JSON.stringify([list.superseded, list.revoked]));
for (const bad of list.bad) differ("a bad list", await listed(bad), null);

// two keys with one id: both are tried
const stranger = { ...keys[0], ed25519: "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a" };
const words = await openSeal(openCode(texts[0].text), [stranger, keys[0]]);
differ("two keys with one id", words.key.ed25519, keys[0].ed25519);
console.log(`${texts.length} texts, ${wrong} differ`);
process.exit(wrong ? 1 : 0);
