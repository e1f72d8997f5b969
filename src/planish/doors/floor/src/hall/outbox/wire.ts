// Asking the desk with a time limit: a connection into a black hole hangs for ever.
export interface Trouble {
  code: string;
  what: string;
  remedy: string;
}

export class Away extends Error {}

export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly trouble: Trouble,
    readonly body: Record<string, unknown>,
    readonly wait: number,
  ) {
    super(trouble.what);
  }
}

export const LIMIT_MS = 10_000;
const API = "/api/v1/";

export interface Asking {
  method?: string;
  query?: Record<string, string | number>;
  body?: unknown;
  bytes?: Blob;
  limit?: number;
}

export async function ask<T>(path: string, { method, query, body, bytes, limit = LIMIT_MS }: Asking = {}): Promise<T> {
  const answer = await reach(path, { method, query, body, bytes, limit });
  return (answer.status === 204 ? undefined : await within(answer.json(), limit)) as T;
}

export async function askText(path: string): Promise<string> {
  return within((await reach(path, { limit: LIMIT_MS })).text(), LIMIT_MS);
}

async function reach(path: string, { method, query, body, bytes, limit = LIMIT_MS }: Asking): Promise<Response> {
  const asked = new URLSearchParams(Object.entries(query ?? {}).map(([name, value]) => [name, String(value)])).toString();
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), limit);
  let answer: Response;
  try {
    answer = await fetch(`${API}${path}${asked ? `?${asked}` : ""}`, {
      method: method ?? (body === undefined && !bytes ? "GET" : "POST"),
      credentials: "same-origin",
      cache: "no-store",
      signal: stop.signal,
      ...(bytes ? { body: bytes, headers: { "Content-Type": "application/octet-stream" } } : {}),
      ...(body === undefined ? {} : { body: JSON.stringify(body), headers: { "Content-Type": "application/json" } }),
    });
  } catch {
    throw new Away("The desk does not answer.");
  } finally {
    clearTimeout(timer);
  }
  if (answer.ok) return answer;
  throw await refusal(answer, limit);
}

async function refusal(answer: Response, limit: number): Promise<Error> {
  let said: Record<string, unknown> = {};
  try {
    said = (await within(answer.json(), limit)) as Record<string, unknown>;
  } catch {
    said = {};
  }
  const trouble = (said.problem ?? { code: "", what: `The desk answered with ${answer.status}.`, remedy: "" }) as Trouble;
  const wait = Number(answer.headers.get("Retry-After") ?? 0) * 1000;
  return new Refused(answer.status, trouble, said, wait);
}

function within<T>(going: Promise<T>, limit: number): Promise<T> {
  return new Promise((done, fail) => {
    const timer = setTimeout(() => fail(new Away("The desk stopped in mid-answer.")), limit);
    going.then(done, () => fail(new Away("The answer broke off."))).finally(() => clearTimeout(timer));
  });
}
