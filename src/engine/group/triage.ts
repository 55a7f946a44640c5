// The order of the coach's evening: who needs eyes first.
import type { DecisionAction } from "../plan/decision.ts";

export interface TriageItem {
  readonly id: string;
  /** Sorts equals; also what the coach reads. */
  readonly name: string;
  /** Worst pain of the week, 0–10; absent when not asked. */
  readonly pain0to10?: number;
  /** Absent when nothing was sent this week. */
  readonly action?: DecisionAction;
  /** Share of time with the beat inside the band, when known: the lower the worse. */
  readonly inBandShare?: number;
}

export type TriageClass = "pain" | "refer" | "ease-back" | "stay" | "nothing-sent" | "move-on";

const classOrder: readonly TriageClass[] = ["pain", "refer", "ease-back", "stay", "nothing-sent", "move-on"];

export function triageClass(item: TriageItem): TriageClass {
  if ((item.pain0to10 ?? 0) > 0) return "pain";
  if (item.action === undefined) return "nothing-sent";
  return item.action === "stop-and-refer" ? "refer" : item.action;
}

/** Worst first: pain (most first), then refer, ease back, stay, nothing sent, move on; within one, least in band first. */
export function triage<Item extends TriageItem>(items: readonly Item[]): Item[] {
  const rank = (item: Item): number => classOrder.indexOf(triageClass(item));
  return [...items].sort(
    (a, b) =>
      rank(a) - rank(b) ||
      (b.pain0to10 ?? 0) - (a.pain0to10 ?? 0) ||
      (a.inBandShare ?? 1) - (b.inBandShare ?? 1) ||
      a.name.localeCompare(b.name, "en") ||
      a.id.localeCompare(b.id, "en"),
  );
}
