// A private view is covered when its page is left: the switcher of apps, a page kept for "back", a desk that others pass.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";

export function Covered({ children }: { children: ComponentChildren }) {
  const [covered, cover] = useState(false);
  useEffect(() => {
    const leave = () => cover(true);
    const turn = () => document.visibilityState === "hidden" && leave();
    addEventListener("pagehide", leave);
    document.addEventListener("visibilitychange", turn);
    return () => {
      removeEventListener("pagehide", leave);
      document.removeEventListener("visibilitychange", turn);
    };
  }, []);
  return (
    <>
      {covered && (
        <div class="covered">
          <p>Your view is covered, since this page was left. What you had chosen is kept.</p>
          <p>
            <button type="button" onClick={() => cover(false)}>
              Show my view again
            </button>
          </p>
        </div>
      )}
      <div hidden={covered}>{children}</div>
    </>
  );
}
