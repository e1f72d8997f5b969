// Addresses after the hash, as at the desk: "#/object/o12".
import { signal } from "@preact/signals";

export interface Place {
  page: string;
  piece: string;
}

function read(): Place {
  const [page = "", piece = ""] = location.hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  return { page, piece };
}

export const place = signal<Place>(read());
addEventListener("hashchange", () => {
  place.value = read();
  scrollTo(0, 0);
});

export const to = (page: string, piece = ""): string => `#/${[page, piece].filter(Boolean).map(encodeURIComponent).join("/")}`;

export function go(page: string, piece = ""): void {
  location.hash = to(page, piece);
}
