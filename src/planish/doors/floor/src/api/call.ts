// One way to ask the desk. Every failure has one shape; a desk that cannot be reached gets the same shape here.
export interface Problem {
  code: string;
  where: string;
  what: string;
  why?: string;
  remedy: string;
}

export class Failed extends Error {
  constructor(
    readonly status: number,
    readonly problem: Problem,
  ) {
    super(problem.what);
  }
}

interface Sent {
  query?: Record<string, string | number | boolean | null | undefined>;
  body?: unknown;
}

const AWAY: Problem = {
  code: "away",
  where: "the desk",
  what: "The desk does not answer.",
  remedy: "Nothing was sent. Look whether planish still runs, then try again.",
};

export const part = (words: string | number) => encodeURIComponent(String(words));

let whenSignedOut = () => {};
export const onSignedOut = (then: () => void) => {
  whenSignedOut = then;
};

function address(path: string, query: Sent["query"]): string {
  const asked = new URLSearchParams();
  for (const [name, value] of Object.entries(query ?? {})) {
    if (value !== undefined && value !== null && value !== "") asked.set(name, String(value));
  }
  const text = asked.toString();
  return text ? `${path}?${text}` : path;
}

function packed(body: unknown): RequestInit {
  if (body === undefined) return {};
  if (body instanceof Blob) return { body, headers: { "Content-Type": "application/octet-stream" } };
  return { body: JSON.stringify(body), headers: { "Content-Type": "application/json" } };
}

export async function call<T>(method: string, path: string, sent: Sent = {}): Promise<T> {
  let answer: Response;
  try {
    answer = await fetch(address(path, sent.query), { method, credentials: "same-origin", ...packed(sent.body) });
  } catch {
    throw new Failed(0, AWAY);
  }
  if (answer.ok) return (answer.status === 204 ? undefined : await read(answer)) as T;
  const failure = (await read(answer)) as { problem?: Problem } | undefined;
  const problem = failure?.problem ?? { ...AWAY, what: `The desk answered with ${answer.status}.` };
  if (answer.status === 401 && problem.code === "sign_in") whenSignedOut();
  throw new Failed(answer.status, problem);
}

async function read(answer: Response): Promise<unknown> {
  try {
    return await answer.json();
  } catch {
    return undefined;
  }
}
