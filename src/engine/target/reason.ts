// Why: every piece of advice names its rule and the evidence behind it.
import type { Evidence } from "../evidence/evidence.ts";

export interface Reason {
  /** Number of the rule in docs/rules, "T3". */
  readonly rule: string;
  /** One or two plain sentences for the coach. */
  readonly text: string;
  /** Ids of the evidence. */
  readonly sources: readonly string[];
}

export function reason(rule: string, text: string, ...from: readonly Evidence<unknown>[]): Reason {
  return { rule, text, sources: from.map((entry) => entry.id) };
}

/** A number as a coach reads it: at most one decimal, no trailing zero. */
export function plain(value: number): string {
  return String(Math.round(value * 10) / 10);
}

export function percent(share: number): string {
  return `${plain(share * 100)} %`;
}
