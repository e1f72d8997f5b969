// One sender for all pages of this browser, without Web Locks (plain HTTP has none): a lease that lies in the store.
import { chance, hex } from "./bytes";
import { got, within } from "./store";

const ME = hex(chance(8));
const LASTS_MS = 15_000;
const LEFT = "planish.floor.left";

interface Lease {
  page: string;
  until: number;
}

/** True when this page is the sender for the next fifteen seconds. */
export const lease = (): Promise<boolean> =>
  within("readwrite", async (stores) => {
    const found = (await got(stores.kept.get("sender"))) as Lease | undefined;
    const ahead = found ? found.until - Date.now() : 0;
    const left = found?.page === localStorage.getItem(LEFT);
    if (found && !left && found.page !== ME && ahead > 0 && ahead <= LASTS_MS) return false;
    stores.kept.put({ page: ME, until: Date.now() + LASTS_MS } satisfies Lease, "sender");
    return true;
  });

/** The page goes: said in the one store that takes words at once, while there is no time for a transaction. */
export const letGo = (): void => localStorage.setItem(LEFT, ME);

/** The page came back from the browser's own memory of pages. */
export const backAgain = (): void => {
  if (localStorage.getItem(LEFT) === ME) localStorage.removeItem(LEFT);
};
