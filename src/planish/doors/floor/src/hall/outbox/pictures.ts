// Pictures: drawn anew on a canvas, so that nothing of the camera's notes (place, time, owner) is left; named by digest.
import { digest, hex } from "./bytes";
import type { Picture } from "./shapes";
import { got, within } from "./store";
import { ask, Refused } from "./wire";

const PIECE = 512 * 1024;
/** Longest side in pixels: enough to read a mark, small enough for a day of them (house default). */
const LONGEST = 3000;

/** Re-encode as JPEG without metadata, upright. */
export async function bare(file: Blob): Promise<Blob> {
  const seen = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, LONGEST / Math.max(seen.width, seen.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(seen.width * scale);
  canvas.height = Math.round(seen.height * scale);
  canvas.getContext("2d")?.drawImage(seen, 0, 0, canvas.width, canvas.height);
  seen.close();
  return new Promise((done, fail) => canvas.toBlob((made) => (made ? done(made) : fail(new Error("The picture cannot be read."))), "image/jpeg", 0.88));
}

export async function named(bytes: Blob): Promise<string> {
  const all = await bytes.arrayBuffer();
  if (crypto.subtle) return hex(new Uint8Array(await crypto.subtle.digest("SHA-256", all)));
  return digest(new Uint8Array(all));
}

/** Store the bytes before the event names them. */
export async function keepPicture(bytes: Blob, object: string): Promise<string> {
  const sha = await named(bytes);
  const one: Picture = { sha, bytes, size: bytes.size, sent: 0, whole: false, object, seq: 0 };
  await within("readwrite", async (stores) => {
    if (!(await got(stores.pictures.getKey(sha)))) stores.pictures.put(one);
  });
  return sha;
}

const all = (): Promise<Picture[]> => within("readonly", (stores) => got(stores.pictures.getAll() as IDBRequest<Picture[]>));

export const picturesLeft = async (): Promise<number> => (await all()).filter((one) => !one.whole).length;

const note = (one: Picture): Promise<void> =>
  within("readwrite", (stores) => {
    stores.pictures.put(one);
  });

interface Have {
  have: number;
  whole: boolean;
}

/** Send what is missing, piece by piece. The desk says how much it has, and is obeyed. */
export async function sendPictures(): Promise<void> {
  for (const one of (await all()).filter((picture) => !picture.whole)) {
    let { have, whole } = await offset(one);
    while (!whole) {
      const piece = one.bytes.slice(have, have + PIECE);
      ({ have, whole } = await put(one, have, piece));
      await note({ ...one, sent: have, whole });
    }
    await note({ ...one, sent: one.size, whole: true });
  }
}

async function offset(one: Picture): Promise<Have> {
  const answer = await fetch(`/api/v1/blobs/${one.sha}`, { method: "HEAD", credentials: "same-origin", cache: "no-store" }).catch(() => null);
  if (!answer?.ok) return { have: 0, whole: false };
  return { have: Number(answer.headers.get("X-Have") ?? 0), whole: answer.headers.get("X-Whole") === "1" };
}

async function put(one: Picture, have: number, bytes: Blob): Promise<Have> {
  try {
    return await ask<Have>(`blobs/${one.sha}`, { method: "PUT", query: { offset: have, size: one.size }, bytes, limit: 30_000 });
  } catch (failure) {
    if (failure instanceof Refused && failure.status === 409) return { have: Number(failure.body.have ?? 0), whole: false };
    throw failure;
  }
}
