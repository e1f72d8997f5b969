// The ribbons of my round, fetched while there is a line, so that they stand on the object page without one.
import type { Doc, Drawn } from "./shapes";
import { got, within } from "./store";
import { askText, Refused } from "./wire";

const AT_ONCE = 40;

/** What a ribbon was drawn from: the words and the looks. */
export const versionOf = (doc: Doc): string => `${doc.text}·${doc.observations.length}·${doc.ribbon_words}`;

export async function drawRibbons(): Promise<void> {
  const lacking = await within("readonly", async (stores) => {
    const docs = (await got(stores.objects.getAll())) as Doc[];
    const known = new Map(((await got(stores.ribbons.getAll())) as Drawn[]).map((one) => [one.id, one.version]));
    return docs.filter((one) => one.ribbon_url && known.get(one.id) !== versionOf(one));
  });
  for (const doc of lacking.slice(0, AT_ONCE)) {
    const svg = await fetched(doc);
    const drawn: Drawn = { id: doc.id, version: versionOf(doc), svg };
    await within("readwrite", (stores) => {
      stores.ribbons.put(drawn);
    });
  }
}

async function fetched(doc: Doc): Promise<string> {
  try {
    return await askText(`objects/${encodeURIComponent(doc.id)}/ribbon.svg`);
  } catch (failure) {
    if (failure instanceof Refused && (failure.status === 403 || failure.status === 404)) return "";
    throw failure;
  }
}

export const ribbonOf = (id: string): Promise<Drawn | undefined> =>
  within("readonly", (stores) => got(stores.ribbons.get(id) as IDBRequest<Drawn | undefined>));
