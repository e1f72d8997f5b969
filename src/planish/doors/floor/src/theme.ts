// Two themes: hall light and dim hall. The choice stays on this device.
import { signal } from "@preact/signals";

export type Theme = "light" | "dim";
export const theme = signal<Theme>("light");

export function beginTheme(): void {
  const kept = localStorage.getItem("planish.theme");
  choose(kept === "dim" || kept === "light" ? kept : "light");
}

export function choose(next: Theme): void {
  theme.value = next;
  document.documentElement.dataset.theme = next;
  localStorage.setItem("planish.theme", next);
}
