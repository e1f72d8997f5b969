// One sender for all pages of this browser, without Web Locks (plain HTTP has none): a lease that lies in the store.
import { chance, hex } from "./bytes";
import { got, within } from "./store";

const ME = hex(chance(8));
const LASTS_MS = 15_000;

interface Lease {
  page: string;
  until: number;
}

/** True when this page is the sender for the next fifteen seconds. */
export const lease = (): Promise<boolean> =>
  within("readwrite", async (stores) => {
    const found = (await got(stores.kept.get("sender"))) as Lease | undefined;
    const ahead = found ? found.until - Date.now() : 0;
    if (found && found.page !== ME && ahead > 0 && ahead <= LASTS_MS) return false;
    stores.kept.put({ page: ME, until: Date.now() + LASTS_MS } satisfies Lease, "sender");
    return true;
  });

export const letGo = (): Promise<void> =>
  within("readwrite", async (stores) => {
    const found = (await got(stores.kept.get("sender"))) as Lease | undefined;
    if (found?.page === ME) stores.kept.delete("sender");
  });
