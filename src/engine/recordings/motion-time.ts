// The time column of a motion table, settled: unit, start, order.
import { fail, type Result, succeed, type Warning } from "../quantities/problem.ts";
import { countMissing } from "./fast-table.ts";
import { type MotionHeader, SECONDS_PER, type TimeUnit } from "./motion-header.ts";

export interface MotionTime {
  /** Seconds from the first sample. */
  readonly timeS: Float64Array;
  readonly startedAtMs?: number;
  /** 1 for the rows that have a time; absent when all have. */
  readonly keep?: Uint8Array;
}

/** Sampling intervals that a motion sensor has: 5 to 1100 a second. Units are 1000 apart, so at most one fits. */
const INTERVAL_S = { low: 0.0009, high: 0.2 };
/** 2000 to 2100: numbers of that size are a clock, others a stopwatch. */
const CLOCK_MS = { low: Date.UTC(2000, 0, 1), high: Date.UTC(2100, 0, 1) };

export function settleTime(raw: Float64Array, header: MotionHeader, fileName: string): Result<MotionTime> {
  const where = { file: fileName, column: header.timeName };
  const keep = countMissing(raw) === 0 ? undefined : Uint8Array.from(raw, (value) => (Number.isNaN(value) ? 0 : 1));
  const times = keep === undefined ? raw : raw.filter((value) => !Number.isNaN(value));
  if (times.length < 2)
    return fail({
      code: "motion-no-rows",
      where,
      got: `${times.length} samples with a time`,
      expected: "at least two samples",
      remedy: "Export the whole recording.",
    });
  const interval = medianInterval(times);
  const fits = (unit: TimeUnit): boolean =>
    interval * SECONDS_PER[unit] >= INTERVAL_S.low && interval * SECONDS_PER[unit] <= INTERVAL_S.high;
  const unit = header.timeUnit ?? (["s", "ms", "us", "ns"] as const).find(fits);
  if (unit === undefined || !fits(unit))
    return fail({
      code: "motion-sample-rate",
      where,
      got: `${interval} ${unit ?? "of no known unit"} from one sample to the next`,
      expected: "5 to 1100 samples a second (50 to 200 are good)",
      remedy: 'Say the unit in the column\'s name, such as "time_ms", or record faster.',
    });
  const warnings: Warning[] = [];
  if (header.timeUnit === undefined && !isClockS(times[0]!, "s"))
    warnings.push({
      code: "motion-time-unit-found",
      message: `The times were taken as ${UNIT_NAME[unit]}: nothing else fits.`,
    });
  const backward = countBackward(times);
  if (backward > 0.2 * times.length)
    return fail({
      code: "motion-time-order",
      where,
      got: `${backward} of ${times.length} times before the one above`,
      expected: "times that rise",
      remedy: "Sort the rows by time, or export the recording again.",
    });
  if (backward > 0)
    warnings.push({ code: "motion-time-backward", message: `${backward} samples go back in time and are left out.` });
  if (keep !== undefined)
    warnings.push({
      code: "motion-time-missing",
      message: `${raw.length - times.length} rows without a time are left out.`,
    });
  const first = times[0]!;
  const timeS = times.map((value) => (value - first) * SECONDS_PER[unit]);
  return succeed(
    {
      timeS,
      ...(isClockS(first, unit) ? { startedAtMs: Math.round(first * SECONDS_PER[unit] * 1000) } : {}),
      ...(keep === undefined ? {} : { keep }),
    },
    warnings,
  );
}

const UNIT_NAME: Readonly<Record<TimeUnit, string>> = {
  s: "seconds",
  ms: "milliseconds",
  us: "microseconds",
  ns: "nanoseconds",
};

function isClockS(value: number, unit: TimeUnit): boolean {
  const ms = value * SECONDS_PER[unit] * 1000;
  return ms >= CLOCK_MS.low && ms <= CLOCK_MS.high;
}

/** Median of the forward steps of up to 5000 samples: repeated stamps and gaps do not move it. */
function medianInterval(times: Float64Array): number {
  const steps: number[] = [];
  for (let i = 1; i < Math.min(times.length, 5000); i += 1)
    if (times[i]! > times[i - 1]!) steps.push(times[i]! - times[i - 1]!);
  steps.sort((a, b) => a - b);
  return steps[steps.length >> 1] ?? 0;
}

function countBackward(times: Float64Array): number {
  let count = 0;
  for (let i = 1; i < times.length; i += 1) if (times[i]! < times[i - 1]!) count += 1;
  return count;
}
