// What lies in the tablet's store, and what travels.
import type { ObjectShown } from "../../api/client";

export interface Opening {
  path: string;
  salt: string;
  value: string;
}

export type Status = "ok" | "have" | "stale" | "held" | "denied" | "gap" | "clash" | "epoch" | "refused";
export const STORED: readonly Status[] = ["ok", "have", "stale", "held", "denied"];

/** One own event: `raw` never changes once it is here. `n` is 0 until the desk gave it a number. */
export interface Own {
  seq: number;
  id: string;
  raw: string;
  open: Opening[];
  sig: string;
  kind: string;
  sub: string;
  who: string;
  t: number;
  status: "waiting" | Status;
  n: number;
  why: string;
  settled?: boolean;
}

/** What is to be written: the store gives number, chain, id and time. */
export interface Draft {
  kind: string;
  sub: string;
  who: string;
  body: Record<string, unknown>;
  base?: string;
  att?: string[];
}

/** Passes that may still be taken back; they become events when `due` is over. */
export interface Pending {
  key?: number;
  due: number;
  made: number;
  words: string;
  stand: string;
  drafts: Draft[];
}

export interface Kept {
  dev: string;
  fair: string;
  fair_name: string;
  seq: number;
  dprev: string;
  epoch: string;
  n: number;
  hash: string;
  safe_n: number;
  head_n: number;
  off: number;
  seen_ms: number;
  asked: string;
  state: "none" | "waiting" | "paired" | "revoked" | "wiped" | "stuck" | "strange";
  trouble: string;
  /** When the desk was last found set back to an earlier state (ms, 0 for never), and how many own entries it had lost. */
  back_ms: number;
  back_lost: number;
}

export interface Person {
  id: string;
  name: string;
  roles: string[];
}

export interface Lock {
  who: string;
  salt: string;
  rounds: number;
  hash: string;
  wrong: number;
  until: number;
}

export interface Standing {
  id: string;
  number: string;
  zone?: string;
  exhibitor?: string;
  objects: string[];
}

export interface Round {
  stands: Standing[];
  people: Person[];
}

export type Doc = ObjectShown & { mine?: boolean; key?: string; n?: number; bases?: { label?: string; exam?: string } };

export interface Picture {
  sha: string;
  bytes: Blob;
  size: number;
  sent: number;
  whole: boolean;
  object: string;
  seq: number;
}

export interface Typed {
  key: string;
  at: number;
  value: Record<string, unknown>;
}

export interface Drawn {
  id: string;
  version: string;
  svg: string;
}

export const NOTHING: Kept = {
  dev: "",
  fair: "",
  fair_name: "",
  seq: 0,
  dprev: "",
  epoch: "",
  n: 0,
  hash: "",
  safe_n: 0,
  head_n: 0,
  off: 0,
  seen_ms: 0,
  asked: "",
  state: "none",
  trouble: "",
  back_ms: 0,
  back_lost: 0,
};
