// A ribbon as the desk drew it: taken in only without script or foreign markup, and its items made to answer.

/** The drawing in `text`; null when it is no drawing or holds more than one. */
export function drawingOf(text: string): SVGElement | null {
  const page = new DOMParser().parseFromString(text, "image/svg+xml");
  if (page.querySelector("parsererror, script, foreignObject")) return null;
  const drawn = document.importNode(page.documentElement, true) as unknown as SVGElement;
  drawn.setAttribute("role", "group");
  return drawn;
}

/** Lets finger and keyboard choose one item of the ribbon; `tell` gets its words and source. */
export function makeTappable(group: SVGGElement, tell: (words: string) => void): void {
  const title = group.querySelector("title")?.textContent ?? "";
  group.setAttribute("tabindex", "0");
  group.setAttribute("role", "button");
  group.addEventListener("click", () => tell(title));
  group.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    tell(title);
  });
}
