// The page: get a code in by camera, photograph or typing; show the sealed words; help to compare.
import { Refused, canCheck, checkCode, hex, openCode, openSeal, readList, sha256, stateInList, tidyCheckCode, unfold } from "./seal.js";
import { changes, qualifiers, sameWords } from "./words.js";

const at = (id) => document.getElementById(id);
const settings = JSON.parse(at("settings").textContent);
const keys = settings.fairs;
let shown = null;

const STATES = {
  sealed: "The fair’s record says: these words stand sealed.",
  superseded: "SUPERSEDED. Other words were sealed later for this object; these no longer hold.",
  revoked: "REVOKED. The fair has withdrawn this seal.",
  unknown: "UNKNOWN. The fair’s record does not hold this seal.",
};
const say = (id, words) => { at(id).textContent = words; };
const show = (id, yes) => { at(id).hidden = !yes; };
const day = (iso) => new Date(`${iso}T12:00:00Z`).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric", timeZone: "UTC" });

function fill(id, tag, texts) {
  at(id).replaceChildren(...texts.map((words) => Object.assign(document.createElement(tag), { textContent: words })));
}

async function receive(text) {
  say("problem", "");
  show("result", false);
  try {
    const sealed = await sealOf(text.trim());
    const words = await openSeal(sealed, keys);
    await present(sealed, words);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    say("problem", `${error.message} Compare the code with the label, or ask the fair’s office.`);
  }
}

async function sealOf(text) {
  if (text.length > 24) return openCode(text);
  const found = settings.seals[tidyCheckCode(text)] ?? (await askForSeal(tidyCheckCode(text)));
  if (!found) throw new Refused("No seal with this check code is on this page. Scan its square code instead.");
  return unfold(found);
}

/** A large fair's page does not carry every seal: the fair is asked for the one with this check code. */
async function askForSeal(code) {
  if (!settings.online) return "";
  try {
    const answer = await fetch(`code/${encodeURIComponent(code)}`, { cache: "no-store" });
    return answer.ok ? ((await answer.json()).seal ?? "") : "";
  } catch {
    return "";
  }
}

async function present(sealed, words) {
  shown = words;
  const long = "These words are too long for the code. Type or paste what hangs below: it is compared with their digest.";
  say("words", words.words || long);
  say("passed", `Words as passed on ${day(words.day)}: ${words.fair}, stand ${words.stand}, no. ${words.number}, version ${words.version}.`);
  say("code", `Check code ${await checkCode(sealed)}`);
  const picture = words.picture.length ? [`the picture on file: its digest begins ${hex(words.picture)}`] : [];
  fill("compare", "li", ["the label that hangs: word for word these words?", ...words.compare.map((line) => `the object: ${line}?`), ...picture]);
  show("pictured", words.picture.length > 0);
  const terms = qualifiers(words.words, words.key.definitions);
  show("terms", terms.length > 0);
  at("meanings").replaceChildren(...terms.flatMap(([term, meaning]) => [
    Object.assign(document.createElement("dt"), { textContent: `“${term}”` }),
    Object.assign(document.createElement("dd"), { textContent: meaning }),
  ]));
  at("hangs").value = "";
  fill("difference", "span", []);
  say("verdict", "");
  say("picture-answer", "");
  say("did", words.key.panel);
  show("result", true);
  at("words").focus();
  await tellState(sealed, words);
}

async function tellState(sealed, words) {
  say("state", `As passed on ${day(words.day)}; later changes unknown.`);
  let state = "";
  if (words.key.list) {
    const list = await readList(unfold(words.key.list), keys);
    state = await stateInList(list, sealed);
    say("state", STATES[state] ?? `As passed on ${day(words.day)}; not withdrawn by ${day(list.day)}; later changes unknown.`);
  }
  at("state").dataset.state = state;
  if (!settings.online) return;
  try {
    const answer = await fetch(settings.online + hex(await sha256(sealed)), { cache: "no-store" });
    const { state: now } = await answer.json();
    if (shown === words && Object.hasOwn(STATES, now)) {
      say("state", STATES[now]);
      at("state").dataset.state = now;
    }
  } catch { /* no line to the fair: what stands there already is the answer */ }
}

async function comparePicture(file) {
  const digest = hex((await sha256(new Uint8Array(await file.arrayBuffer()))).slice(0, shown.picture.length));
  say("picture-answer", digest === hex(shown.picture) ? "This is the picture on file, byte for byte." : "This is another file than the picture on file. A photograph of your own never is the same file; compare by eye.");
}

async function compareWords(hangs) {
  if (!hangs.trim()) { fill("difference", "span", []); say("verdict", ""); return; }
  if (!shown.words) {
    const bytes = new TextEncoder().encode(hangs);
    const equal = hex(await sha256(bytes)) === hex(shown.digest);
    say("verdict", equal ? "Letter for letter the sealed words." : "Not the sealed words, or not typed letter for letter.");
    return;
  }
  const runs = changes(shown.words, hangs);
  say("verdict", sameWords(shown.words, hangs) ? "Word for word the same." : "Not the same. Struck through: only sealed. Underlined: only on the label.");
  at("difference").replaceChildren(...runs.flatMap(([kind, words]) => {
    const tag = { same: "span", removed: "del", added: "ins" }[kind];
    return [Object.assign(document.createElement(tag), { textContent: words }), " "];
  }));
}

// ---- camera and photograph: with the browser's own reader of codes, else with the one that is served beside the page

async function detector() {
  try {
    const formats = "BarcodeDetector" in window ? await BarcodeDetector.getSupportedFormats() : [];
    if (formats.includes("qr_code")) return new BarcodeDetector({ formats: ["qr_code"] });
  } catch { /* then the other one */ }
  return settings.reader && "WebAssembly" in window ? ownReader(settings.reader) : null;
}

/** The reader in WebAssembly, fetched when it is first needed; asked in the same way as the browser's own. */
function ownReader(address) {
  const MOST = 1600;
  const canvas = document.createElement("canvas");
  let loading = null;
  const load = async () => {
    const { ZXingWASM } = await import(`${address}.js`);
    const answer = await fetch(`${address}.wasm`);
    await ZXingWASM.prepareZXingModule({ overrides: { wasmBinary: await answer.arrayBuffer() }, fireImmediately: true });
    return ZXingWASM;
  };
  return {
    async detect(source) {
      loading ??= load();
      const reader = await loading;
      const [wide, high] = [source.videoWidth ?? source.width, source.videoHeight ?? source.height];
      const scale = Math.min(1, MOST / Math.max(wide, high));
      canvas.width = Math.max(1, Math.round(wide * scale));
      canvas.height = Math.max(1, Math.round(high * scale));
      const pen = canvas.getContext("2d", { willReadFrequently: true });
      pen.drawImage(source, 0, 0, canvas.width, canvas.height);
      const found = await reader.readBarcodes(pen.getImageData(0, 0, canvas.width, canvas.height), { formats: ["QRCode"], tryHarder: true });
      return found.map((one) => ({ rawValue: one.text }));
    },
  };
}

async function readPicture(reader, source) {
  const found = await reader.detect(source);
  return found.find((one) => /^(PLANISH:1:|https:)/.test(one.rawValue))?.rawValue ?? "";
}

async function scan(reader) {
  const view = at("view");
  try {
    view.srcObject = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  } catch {
    say("problem", "The camera cannot be used. Take a photograph, or type the check code.");
    return;
  }
  show("camera", true);
  await view.play();
  let text = "";
  while (!text && view.srcObject) {
    text = await readPicture(reader, view).catch(() => "");
    await new Promise((again) => setTimeout(again, 150));
  }
  stop();
  if (text) await receive(text);
}

function stop() {
  for (const track of at("view").srcObject?.getTracks() ?? []) track.stop();
  at("view").srcObject = null;
  show("camera", false);
}

async function photographed(reader, file) {
  const text = await createImageBitmap(file).then((picture) => readPicture(reader, picture)).catch(() => "");
  if (text) await receive(text);
  else say("problem", "No code can be read in this picture. Hold the phone straight above the code, or type its check code.");
}

async function begin() {
  if (!(await canCheck())) {
    show("cannot", true);
    show("ways", false);
    return;
  }
  const reader = await detector();
  show("with-camera", Boolean(reader));
  show("without-camera", !reader);
  if (!navigator.mediaDevices) show("scan", false);
  at("scan").addEventListener("click", () => scan(reader));
  at("stop").addEventListener("click", stop);
  at("photo").addEventListener("change", (event) => photographed(reader, event.target.files[0]));
  at("typed").addEventListener("submit", (event) => { event.preventDefault(); receive(at("text").value); });
  at("hangs").addEventListener("input", (event) => compareWords(event.target.value));
  at("picture").addEventListener("change", (event) => comparePicture(event.target.files[0]));
  const opened = () => location.hash.length > 24 && receive(`https://page/#${location.hash.slice(1)}`);
  addEventListener("hashchange", opened);
  if (settings.worker && "serviceWorker" in navigator) navigator.serviceWorker.register(settings.worker).catch(() => {});
  await opened();
  document.body.dataset.ready = "yes";
}

begin();
