// A large button that does one thing once, and says what went wrong beside itself.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";

interface Pressed {
  run: () => Promise<unknown>;
  children: ComponentChildren;
  plain?: boolean;
  wide?: boolean;
  disabled?: boolean;
}

export function Press({ run, children, plain, wide, disabled }: Pressed) {
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState("");
  const press = async () => {
    setBusy(true);
    setWrong("");
    try {
      await run();
    } catch (failure) {
      setWrong(failure instanceof Error ? failure.message : String(failure));
    } finally {
      setBusy(false);
    }
  };
  return (
    <>
      <button type="button" class={`${plain ? "plain" : ""} ${wide ? "wide" : ""}`} disabled={busy || disabled} onClick={() => void press()}>
        {children}
      </button>
      {wrong && <p class="warn" role="alert">{wrong}</p>}
    </>
  );
}
