// What is being typed, stored 300 ms after the last key and back after a reload; nobody is asked whether to bring it back.
import { useCallback, useEffect, useRef, useState } from "preact/hooks";
import type { Typed } from "../outbox/shapes";
import { got, within } from "../outbox/store";
import { who } from "../state";

export const DRAFT_MS = 300;

export function useTyped<T extends object>(name: string, empty: T): [T, (next: T) => void, () => Promise<void>] {
  const key = `${who.value?.id ?? ""}:${name}`;
  const [value, set] = useState<T>(empty);
  const timer = useRef(0);
  const touched = useRef(false);
  const unkept = useRef<T | null>(null);
  useEffect(() => {
    void within("readonly", (stores) => got(stores.typed.get(key) as IDBRequest<Typed | undefined>)).then((found) => {
      if (found && !touched.current) set({ ...empty, ...(found.value as T) });
    });
    return () => {
      clearTimeout(timer.current);
      if (unkept.current) void keep(key, unkept.current);
    };
  }, [key]);
  const change = useCallback(
    (next: T) => {
      touched.current = true;
      set(next);
      clearTimeout(timer.current);
      unkept.current = next;
      timer.current = window.setTimeout(() => {
        unkept.current = null;
        void keep(key, next);
      }, DRAFT_MS);
    },
    [key],
  );
  const clear = useCallback(async () => {
    clearTimeout(timer.current);
    touched.current = false;
    unkept.current = null;
    set(empty);
    await within("readwrite", (stores) => {
      stores.typed.delete(key);
    });
  }, [key]);
  return [value, change, clear];
}

const keep = (key: string, value: object): Promise<void> =>
  within("readwrite", (stores) => {
    stores.typed.put({ key, at: Date.now(), value: value as Record<string, unknown> } satisfies Typed);
  });
