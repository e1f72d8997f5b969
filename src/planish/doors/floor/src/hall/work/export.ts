// Everything this tablet made, as one file for the desk: events are self-contained, and taken in twice they count once.
import { exported } from "../outbox/outbox";

export async function saveFile(): Promise<void> {
  const found = await exported();
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(found)], { type: "application/json" }));
  link.download = `planish-${found.tablet.dev || "tablet"}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
