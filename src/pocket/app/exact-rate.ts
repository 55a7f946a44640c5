import type { Format } from "../../ui/words/format.ts";

/** A rate that was set, not measured: 161.5 stays 161.5, 162 stays 162. */
export function exactRateValue(format: Format, stepRateSpm: number): string {
  return format.beatValue(stepRateSpm);
}

export function exactRate(format: Format, stepRateSpm: number): string {
  return `${exactRateValue(format, stepRateSpm)}\u00a0${format.rateUnit}`;
}
