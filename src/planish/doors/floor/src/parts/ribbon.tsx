// The year ribbon, drawn by the desk as SVG. An item is tapped and gives its source; the whole stands in words too.
import { useEffect, useRef, useState } from "preact/hooks";
import { drawingOf, makeTappable } from "./drawing";

export function Ribbon({ url, words }: { url: string; words: string }) {
  const at = useRef<HTMLDivElement>(null);
  const [item, setItem] = useState("");
  useEffect(() => {
    let gone = false;
    void draw(url).then((svg) => {
      if (!svg || gone || !at.current) return;
      at.current.replaceChildren(svg);
      for (const group of svg.querySelectorAll<SVGGElement>("g.item")) makeTappable(group, setItem);
    });
    return () => {
      gone = true;
    };
  }, [url]);
  return (
    <figure class="ribbon">
      <div class="wide" role="region" aria-label="The years" tabIndex={0} ref={at} />
      <figcaption>
        <p aria-live="polite">{item || "Choose an item on the ribbon to see its source."}</p>
        <details>
          <summary>The ribbon in words</summary>
          <p class="as-written">{words}</p>
        </details>
      </figcaption>
    </figure>
  );
}

async function draw(url: string): Promise<SVGElement | null> {
  const answer = await fetch(url, { credentials: "same-origin" });
  return answer.ok ? drawingOf(await answer.text()) : null;
}
