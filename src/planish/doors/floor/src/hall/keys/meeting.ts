// Meeting the desk again: is it the one this tablet was paired with, and does it know who holds the tablet?
import { chance, hex } from "../outbox/bytes";
import { recall } from "../outbox/store";
import { ask, Away, Refused } from "../outbox/wire";
import { who } from "../state";
import { canSign, sameDesk } from "./device";
import { forgetPin } from "./pin";

/** The PIN as it was typed last, for as long as this page is unlocked: the desk asks for it when the line comes back. */
let typed = "";
export const holdPin = (pin: string) => {
  typed = pin;
};

/** Asked before anything is sent. True as well where the browser cannot check (plain HTTP): the pages say so. */
export async function deskIsTheSame(fair: string): Promise<boolean> {
  const pinned = await recall<string>("desk_key");
  if (!pinned || !canSign()) return true;
  const nonce = hex(chance(32));
  const said = await ask<{ sig: string; desk_key: string }>("hello", { body: { nonce } });
  if (said.desk_key !== pinned) return false;
  return (await sameDesk(pinned, `planish hello\0${fair}\0${nonce}`, said.sig)) !== false;
}

/** Unlock at the desk with the PIN typed here. False: a person must type it. */
export async function unlockAgain(): Promise<boolean> {
  if (!who.value || !typed) return false;
  try {
    await ask("unlock", { body: { person: who.value.id, pin: typed } });
    return true;
  } catch (failure) {
    if (failure instanceof Away) return false;
    if (failure instanceof Refused && failure.status !== 429) {
      await forgetPin(who.value.id);
      typed = "";
      who.value = null;
    }
    return false;
  }
}
