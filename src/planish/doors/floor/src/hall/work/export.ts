// Everything this tablet made, as one file for the desk: events are self-contained, and taken in twice they count once.
import { sign } from "../keys/device";
import { exported } from "../outbox/outbox";

export async function saveFile(): Promise<void> {
  const found = await exported();
  // The signature shows the desk whose work it is; what was not sent yet may lack it.
  const events = await Promise.all(found.events.map(async (one) => ({ ...one, sig: one.sig || (await sign(one.raw)) })));
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify({ ...found, events })], { type: "application/json" }));
  link.download = `planish-${found.tablet.dev || "tablet"}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
