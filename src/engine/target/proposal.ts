// What Spondee proposes for a runner, with its reasons. The coach decides.
import type { PaceRow } from "./speed-curve.ts";
import type { Reason } from "./reason.ts";

export type Advice = "leave-alone" | "change" | "refer" | "measure-first";
export type History = "bone" | "achilles" | "calf" | "none";

export interface Proposal {
  readonly advice: Advice;
  /** Both feet, at `speedMps`: the band around the aim. Null unless the advice is "change". */
  readonly targetSpm: { readonly low: number; readonly high: number } | null;
  /** Where this programme ends; null unless the advice is "change". */
  readonly aimSpm: number | null;
  /** Never to be exceeded in this programme (T4, T5); null without a baseline. */
  readonly capSpm: number | null;
  /** Comfortable step rate at `speedMps`; null without a baseline. */
  readonly baselineSpm: number | null;
  /** The speed that all of it holds at; null when unknown. */
  readonly speedMps: number | null;
  readonly speedExponent: number;
  /** Target of each stage, both feet. Empty unless the advice is "change". */
  readonly stages: readonly number[];
  readonly paceTable: readonly PaceRow[];
  /** T5: half-size stages, and calf and Achilles are asked about every week. */
  readonly careful: boolean;
  readonly reasons: readonly Reason[];
  readonly cautions: readonly string[];
  /** Present when a coach set the aim: by whom, when and why. */
  readonly coachAim?: { readonly by: string; readonly at: string; readonly reason: string };
}
