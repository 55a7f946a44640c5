// The shape of a published retraining protocol: what the paper states, and what somebody had to fill in.
import type { EvidenceKind, Source } from "../evidence/evidence.ts";
import type { CueSchedule, MinutesSchedule } from "./schedule.ts";

/** A parameter and how well it is known. "ours" where no source gives it: needed to lay a plan, and said so. */
export interface Stated<Value> {
  readonly value: Value;
  readonly kind: EvidenceKind;
  readonly note?: string;
}

export interface Protocol {
  readonly id: string;
  readonly title: string;
  readonly source: Source;
  /** What was trained, in a few words. */
  readonly trained: string;
  /** Rise of step rate over the runner's own; null when the study trained something else: then only its schedule is used. */
  readonly riseShare: Stated<number | null>;
  readonly weeks: Stated<number>;
  /** Sessions over all the weeks. */
  readonly sessionCount: Stated<number>;
  /** Sessions of each week where the paper says; as even as can be otherwise. */
  readonly sessionsInWeeks?: Stated<readonly number[]>;
  readonly minutes: Stated<MinutesSchedule>;
  readonly cue: Stated<string>;
  readonly cueSchedule: Stated<CueSchedule>;
  /** What came of it, for the coach to read; never a promise. */
  readonly result: Stated<string>;
}

/** How many sessions fall in each week. */
export function sessionsByWeek(protocol: Protocol): readonly number[] {
  if (protocol.sessionsInWeeks !== undefined) return protocol.sessionsInWeeks.value;
  const { value: count } = protocol.sessionCount;
  const { value: weeks } = protocol.weeks;
  return Array.from(
    { length: weeks },
    (_, week) => Math.ceil((count * (week + 1)) / weeks) - Math.ceil((count * week) / weeks),
  );
}
