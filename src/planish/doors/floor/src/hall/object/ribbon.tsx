// The year ribbon from the tablet's store, as the desk drew it. Buttons move it: nothing has to be swiped.
import { useEffect, useRef, useState } from "preact/hooks";
import type { Doc } from "../outbox/shapes";
import { ribbonOf } from "../outbox/ribbons";
import { drawingOf, makeTappable } from "../../parts/drawing";
import { bare } from "../../parts/words";

export function Ribbon({ of }: { of: Doc }) {
  const at = useRef<HTMLDivElement>(null);
  const [item, setItem] = useState("");
  const [drawn, setDrawn] = useState(false);
  useEffect(() => {
    let gone = false;
    void ribbonOf(of.id).then((found) => {
      const svg = found?.svg ? drawingOf(found.svg) : null;
      if (gone || !svg || !at.current) return;
      at.current.replaceChildren(svg);
      for (const group of svg.querySelectorAll<SVGGElement>("g.item")) makeTappable(group, setItem);
      setDrawn(true);
      requestAnimationFrame(() => at.current?.scrollTo({ left: at.current.scrollWidth }));
    });
    return () => {
      gone = true;
    };
  }, [of.id, of.ribbon_words]);
  if (!of.date_sentence) return null;
  const move = (by: number) => at.current?.scrollBy({ left: by * at.current.clientWidth * 0.8 });
  return (
    <section aria-labelledby="years">
      <h2 id="years">The years</h2>
      <p>{bare(of.date_sentence)}</p>
      <figure class="ribbon" hidden={!drawn}>
        <div class="across" role="region" aria-label="The years" tabIndex={0} ref={at} />
        <div class="row movers">
          <button type="button" class="plain" onClick={() => move(-1)}>Earlier</button>
          <button type="button" class="plain" onClick={() => move(1)}>Later</button>
        </div>
        <figcaption aria-live="polite">{item || "Tap an item to see its source."}</figcaption>
      </figure>
      <details>
        <summary>The ribbon in words</summary>
        <p class="as-written">{of.ribbon_words}</p>
      </details>
    </section>
  );
}
