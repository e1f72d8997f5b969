// What this browser cannot promise, said on every page for as long as it is so.
import { computed, signal } from "@preact/signals";
import { line, tablet, waiting, waitingCount } from "../state";
import { plural } from "./words";

export const plainHttp = !globalThis.isSecureContext;
export const LOST: readonly string[] = [
  "A reload without network does not open this page.",
  "Events are not signed by this tablet.",
  "The browser may delete what waits here.",
  "No live scanner: the camera gives pictures only.",
  "What is sent can be read on its way through the air, ballots too.",
];

const persisted = signal<boolean | null>(null);
const room = signal<number | null>(null);
const battery = signal<number | null>(null);
const FEW_MB = 200;

export async function askStorage(): Promise<void> {
  persisted.value = navigator.storage?.persist ? await navigator.storage.persist().catch(() => false) : null;
  const found = await navigator.storage?.estimate?.().catch(() => undefined);
  if (found?.quota !== undefined) room.value = (found.quota - (found.usage ?? 0)) / 2 ** 20;
}

interface Battery extends EventTarget {
  level: number;
  charging: boolean;
}

export async function watchBattery(): Promise<void> {
  const found = await (navigator as { getBattery?: () => Promise<Battery> }).getBattery?.().catch(() => undefined);
  if (!found) return;
  const look = () => (battery.value = found.charging ? null : found.level * 100);
  look();
  found.addEventListener("levelchange", look);
  found.addEventListener("chargingchange", look);
}

export const storageWords = computed(() => {
  const kept = persisted.value ? "This browser keeps what waits here until it is sent." : "This browser may delete what waits here when its disk is full or planish is not opened for a week.";
  return room.value === null ? kept : `${kept} Free for planish: ${room.value > 2048 ? `${Math.floor(room.value / 1024)} GB` : `${Math.floor(room.value)} MB`}.`;
});

/** While what a set-back desk lost is on its way in again. */
export const setBack = computed(() => {
  const { back_ms, back_lost } = tablet.value;
  if (!back_lost || !waiting.value.some((one) => one.t < back_ms)) return "";
  return `The desk was set back to an earlier state. ${plural(back_lost, "entry", "entries")} that it lost ${back_lost === 1 ? "is" : "are"} handed in again from here; keep this tablet switched on.`;
});

export const warnings = computed(() => {
  const said: string[] = [];
  if (plainHttp) said.push(`Not a secure connection. Lost: ${LOST.map((one) => one.toLowerCase().replace(/\.$/, "")).join("; ")}.`);
  if (persisted.value === false && waitingCount.value) said.push("This browser may delete what waits here: go near the desk's network soon.");
  if (room.value !== null && room.value < FEW_MB) said.push(`Only ${Math.floor(room.value)} MB are free on this tablet.`);
  if (battery.value !== null && battery.value < 15 && waitingCount.value) said.push(`Battery at ${Math.round(battery.value)} %, and work waits here.`);
  if (line.value === "full") said.push("The desk's disk is full. Work stays on this tablet until there is room.");
  return said;
});
