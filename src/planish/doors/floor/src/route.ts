// Addresses after the hash: "#/objects/7-12?stand=7" is the page "objects", the piece "7-12", the question stand=7.
import { signal } from "@preact/signals";

export interface Place {
  page: string;
  piece: string;
  more: string;
  asked: Record<string, string>;
}

function read(): Place {
  const [path = "", query = ""] = location.hash.replace(/^#\/?/, "").split("?");
  const [page = "", piece = "", more = ""] = path.split("/").map(decodeURIComponent);
  return { page, piece, more, asked: Object.fromEntries(new URLSearchParams(query)) };
}

export const place = signal<Place>(read());
addEventListener("hashchange", () => {
  place.value = read();
  window.scrollTo(0, 0);
});

export function to(page: string, piece = "", asked: Record<string, string> = {}): string {
  const kept = Object.entries(asked).filter(([, value]) => value !== "");
  const query = new URLSearchParams(kept).toString();
  const path = [page, ...piece.split("/").filter(Boolean).map(encodeURIComponent)].filter(Boolean).join("/");
  return `#/${path}${query ? `?${query}` : ""}`;
}

export function go(page: string, piece = "", asked: Record<string, string> = {}): void {
  location.hash = to(page, piece, asked);
}
