// Who is signed in, and what that person may do.
import { computed, signal } from "@preact/signals";
import { Failed, onSignedOut, type Problem } from "./api/call";
import { flush } from "./parts/passing";
import { api, type Me, type SessionNow } from "./api/client";

export const now = signal<SessionNow | null>(null);
export const unreachable = signal<Problem | null>(null);
export const me = computed<Me | null>(() => now.value?.me ?? null);

export async function look(): Promise<void> {
  try {
    now.value = await api.session_now();
    unreachable.value = null;
  } catch (failure) {
    unreachable.value = failure instanceof Failed ? failure.problem : null;
  }
}

export function has(...roles: string[]): boolean {
  return roles.some((role) => me.value?.roles.includes(role));
}

export const chairs = () => has("chair", "deputy");
export const office = () => has("chair", "deputy", "office");
export const leads = () => has("chair", "deputy", "leader");
export const votes = () => has("leader", "member");

export async function leave(): Promise<void> {
  await flush();
  await api.sign_out();
  location.hash = "#/";
  await look();
}

onSignedOut(() => {
  if (now.value?.me) now.value = { ...now.value, me: null };
});
