// What can be said of a sound before listening: nothing in it, cut off at the top, broken samples.
import { type Warning } from "../quantities/problem.ts";

export interface InspectedSamples {
  /** The recording's own samples, or a copy with 0 where a sample was no number. */
  readonly samples: Float32Array;
  /** Every sample is the same: digital silence or a constant. */
  readonly silent: boolean;
  readonly warnings: readonly Warning[];
}

/** Share of samples at the recording's own top or bottom, each beside another such one, that is "clipped". */
const CLIPPED_SHARE = 1e-3;

/** One pass. */
export function inspectSamples(samples: Float32Array): InspectedSamples {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let brokenCount = 0;
  for (let index = 0; index < samples.length; index += 1) {
    const value = samples[index]!;
    if (!Number.isFinite(value)) brokenCount += 1;
    else {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  }
  const warnings: Warning[] = [];
  if (brokenCount > 0)
    warnings.push({
      code: "sound-broken-samples",
      message: `${brokenCount} of ${samples.length} samples are no numbers and were taken as silence.`,
    });
  const silent = !(high > low);
  if (silent)
    warnings.push({ code: "sound-silent", message: "There is no sound in the recording: was the microphone on?" });
  else if (clippedShare(samples, low, high) > CLIPPED_SHARE)
    warnings.push({
      code: "sound-clipped",
      message:
        "The sound is cut off at its loudest: step times still hold, loudness does not. Move the phone further away.",
    });
  const whole = brokenCount === 0 ? samples : samples.map((value) => (Number.isFinite(value) ? value : 0));
  return { samples: whole, silent, warnings };
}

/** Samples on a plateau of two or more at the extremes. */
function clippedShare(samples: Float32Array, low: number, high: number): number {
  let clipped = 0;
  for (let index = 1; index < samples.length; index += 1) {
    const value = samples[index]!;
    if ((value === low || value === high) && value === samples[index - 1]) clipped += 1;
  }
  return clipped / samples.length;
}
