// A runner wanders: even a perfect measure of one minute is not the runner's comfortable rate.
import { longMemoryExponent, withinRunCv } from "../evidence/measuring.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";

/**
 * Standard error (spm) of a mean step rate over `durationS` as a measure of the runner's comfortable rate that day:
 * cv · rate · N^(H − 1) over N steps. H = 0.5 would be independent steps; running wanders slowly, H is near 0.8.
 * Day-to-day variation is not in it: that belongs to the comparison of runs.
 */
export function ownVariationSpm(
  stepRateSpm: number,
  durationS: number,
  options: { readonly cv?: number; readonly memoryExponent?: number } = {},
): number {
  const stepCount = (stepRateSpm * durationS) / SECONDS_PER_MINUTE;
  if (!(stepCount > 0))
    throw new RangeError(
      `ownVariationSpm: stepRateSpm and durationS must be positive, got ${stepRateSpm}, ${durationS}`,
    );
  const exponent = (options.memoryExponent ?? longMemoryExponent.value) - 1;
  return (options.cv ?? withinRunCv.value) * stepRateSpm * stepCount ** exponent;
}
