// Onset strength on a scale where every clear onset is about as strong as the next: what the rate core and the chain see.
import { type FeatureChannels } from "./rate-track.ts";
import { sampleAround } from "./sound-quantile-sample.ts";
import { type SoundOnsets } from "./sound-onsets.ts";

const BLOCK_S = 1;
const AROUND_S = 4;
const LOUD_SHARE = 0.95;
/** The threshold's height between the median and the loud end of what is near. */
const THRESHOLD_SHARE = 0.4;

/**
 * x²/(x² + θ²), 0 to 1, with θ between the median and the 95th percentile of the flux within ±4 s (a median-adaptive
 * threshold, soft): a loud foot does not outweigh a quiet one, and noise stays near 0.
 */
export function salienceOf(flux: Float64Array, frameRateHz: number): Float64Array {
  const salience = new Float64Array(flux.length);
  const block = Math.max(1, Math.round(BLOCK_S * frameRateHz));
  const around = Math.round(AROUND_S * frameRateHz);
  for (let start = 0; start < flux.length; start += block) {
    const end = Math.min(flux.length, start + block);
    const near = sampleAround(flux, start - around, end + around).sort();
    const median = near[near.length >> 1]!;
    const loud = near[Math.floor(LOUD_SHARE * (near.length - 1))]!;
    const threshold = (median + THRESHOLD_SHARE * (loud - median)) ** 2;
    if (threshold <= 0) continue;
    for (let frame = start; frame < end; frame += 1) {
      const power = flux[frame]! ** 2;
      salience[frame] = power / (power + threshold);
    }
  }
  return salience;
}

/** The rate core's channels: salience of all bands together and of each group, 50 values a second. */
export function soundFeatures(onsets: SoundOnsets): FeatureChannels {
  return {
    featureRateHz: onsets.frameRateHz / 2,
    startS: 0.5 / onsets.frameRateHz,
    groups: [onsets.total, ...onsets.groups].map((flux) => [pairMeans(salienceOf(flux, onsets.frameRateHz))]),
    content: "onsets",
  };
}

function pairMeans(values: Float64Array): Float64Array {
  const means = new Float64Array(values.length >> 1);
  for (let pair = 0; pair < means.length; pair += 1) means[pair] = (values[2 * pair]! + values[2 * pair + 1]!) / 2;
  return means;
}
