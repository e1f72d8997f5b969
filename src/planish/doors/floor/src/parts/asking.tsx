// Asking the desk from a page: an answer that may be waited for, and a button that does something.
import type { ComponentChildren } from "preact";
import { useCallback, useEffect, useRef, useState } from "preact/hooks";
import { Failed, type Problem } from "../api/call";
import { ProblemNote } from "./notes";

export interface Asked<T> {
  value: T | undefined;
  problem: Problem | undefined;
  again: () => Promise<void>;
  put: (value: T) => void;
}

export function problemOf(failure: unknown): Problem {
  if (failure instanceof Failed) return failure.problem;
  return { code: "page", where: "this page", what: String(failure), remedy: "Load the page again." };
}

/** Asks when the page opens and whenever one of `keys` changes; an answer that comes too late is dropped. */
export function useAsked<T>(ask: () => Promise<T>, keys: unknown[]): Asked<T> {
  const [value, put] = useState<T>();
  const [problem, setProblem] = useState<Problem>();
  const turn = useRef(0);
  const again = useCallback(async () => {
    const mine = ++turn.current;
    try {
      const found = await ask();
      if (mine !== turn.current) return;
      put(found);
      setProblem(undefined);
    } catch (failure) {
      if (mine === turn.current) setProblem(problemOf(failure));
    }
  }, keys);
  useEffect(() => {
    void again();
    return () => {
      turn.current += 1;
    };
  }, [again]);
  return { value, problem, again, put };
}

export function Shown<T>({ of, children }: { of: Asked<T>; children: (value: T) => ComponentChildren }) {
  return (
    <>
      {of.problem && <ProblemNote of={of.problem} />}
      {of.value !== undefined ? children(of.value) : !of.problem && <p class="quiet" role="status">Fetching …</p>}
    </>
  );
}

interface Doing {
  run: () => Promise<unknown>;
  children: ComponentChildren;
  plain?: boolean;
  done?: string;
  disabled?: boolean;
  label?: string;
}

/** A button that does one thing, says that it is at it, and shows what went wrong beside itself. */
export function Act({ run, children, plain, done, disabled, label }: Doing) {
  const { busy, problem, said, start } = useDoing(run, done);
  return (
    <span class="act">
      <button type="button" class={plain ? "plain" : ""} disabled={busy || disabled} aria-label={label} onClick={start}>
        {children}
      </button>
      <Said problem={problem} said={said} />
    </span>
  );
}

export function useDoing(run: () => Promise<unknown>, done = "") {
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem>();
  const [said, setSaid] = useState("");
  const start = async () => {
    setBusy(true);
    setProblem(undefined);
    setSaid("");
    try {
      await run();
      setSaid(done);
    } catch (failure) {
      setProblem(problemOf(failure));
    } finally {
      setBusy(false);
    }
  };
  return { busy, problem, said, start };
}

export function Said({ problem, said }: { problem: Problem | undefined; said: string }) {
  return (
    <span role="status" class="said">
      {problem && <ProblemNote of={problem} />}
      {said}
    </span>
  );
}

interface Form {
  run: () => Promise<unknown>;
  submit: string;
  children: ComponentChildren;
  done?: string;
  legend?: string;
}

/** A form that is sent with Enter or its one button. */
export function Sending({ run, submit, children, done, legend }: Form) {
  const { busy, problem, said, start } = useDoing(run, done);
  return (
    <form
      aria-label={legend}
      onSubmit={(event) => {
        event.preventDefault();
        void start();
      }}
    >
      {children}
      <p class="act">
        <button type="submit" disabled={busy}>
          {submit}
        </button>
      </p>
      <Said problem={problem} said={said} />
    </form>
  );
}
