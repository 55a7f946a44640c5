// How minutes grow and how the beat fades over a programme, as data.
import { fadeFromShare, fadeTailShares } from "../evidence/plans.ts";

export type MinutesSchedule =
  | { readonly kind: "constant"; readonly minutes: number }
  /** Even steps from the first session to the last. */
  | { readonly kind: "linear"; readonly startMinutes: number; readonly endMinutes: number }
  /** One entry a session; the last one holds for any further. */
  | { readonly kind: "listed"; readonly minutes: readonly number[] };

export type CueSchedule =
  | { readonly kind: "constant"; readonly share: number }
  /** Full for the first part of the sessions, then down the tail, stretched over the sessions that are left. */
  | { readonly kind: "faded"; readonly fullShare: number; readonly tailShares: readonly number[] }
  | { readonly kind: "listed"; readonly shares: readonly number[] };

export const fadedCue: CueSchedule = {
  kind: "faded",
  fullShare: fadeFromShare.value,
  tailShares: fadeTailShares.value,
};

/** Minutes of session `index` (from 0) of `count`. */
export function minutesOf(schedule: MinutesSchedule, index: number, count: number): number {
  switch (schedule.kind) {
    case "constant":
      return schedule.minutes;
    case "linear": {
      const share = count > 1 ? index / (count - 1) : 0;
      return schedule.startMinutes + share * (schedule.endMinutes - schedule.startMinutes);
    }
    case "listed":
      return entry(schedule.minutes, index, "minutesOf");
  }
}

/** Share of session `index` (from 0) of `count` with the beat on, 0–1. */
export function cueShareOf(schedule: CueSchedule, index: number, count: number): number {
  switch (schedule.kind) {
    case "constant":
      return schedule.share;
    case "listed":
      return entry(schedule.shares, index, "cueShareOf");
    case "faded": {
      const fullCount = Math.ceil(count * schedule.fullShare);
      if (index < fullCount) return 1;
      const tail = schedule.tailShares;
      const left = count - fullCount;
      // The tail's first and last entries fall on the first and last faded session.
      const place = left > 1 ? ((index - fullCount) / (left - 1)) * (tail.length - 1) : tail.length - 1;
      const below = Math.floor(place);
      const low = entry(tail, below, "cueShareOf");
      const high = entry(tail, below + 1, "cueShareOf");
      return low + (place - below) * (high - low);
    }
  }
}

function entry(list: readonly number[], index: number, caller: string): number {
  const value = list[Math.min(index, list.length - 1)];
  if (value === undefined) throw new RangeError(`${caller}: a listed schedule needs at least one entry, got none`);
  return value;
}
