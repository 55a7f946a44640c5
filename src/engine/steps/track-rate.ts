// The rate core over whole channels: what a sound or any other uniformly sampled feature uses.
import { createRateCore, WINDOW_S } from "./rate-core.ts";
import { type FeatureChannels, type RateTrack } from "./rate-track.ts";
import { createTrackBuilder } from "./track-builder.ts";

export const TRACK_HOP_S = 1;

/**
 * Step rate over time from uniformly sampled features (25–100 a second), one point a second, windows of 5 s (4 s at the
 * start; the last ends with the data). Fewer than 3 s give no points. Never an answer outside the ranges of human running
 * and walking (evidence: running-rate-range, walking-rate-range). docs/method/step-rate.md has the model.
 */
export function trackRate(channels: FeatureChannels): RateTrack {
  const builder = createTrackBuilder(TRACK_HOP_S);
  const all = channels.groups.flat();
  const length = all[0]?.length ?? 0;
  if (all.some((channel) => channel.length !== length)) throw new RangeError("trackRate: channels differ in length");
  const core = createRateCore({
    featureRateHz: channels.featureRateHz,
    groupSizes: channels.groups.map((group) => group.length),
    content: channels.content,
    hopS: TRACK_HOP_S,
    onWindow: builder.add,
  });
  core.begin(channels.startS);
  const values = new Float64Array(all.length);
  for (let i = 0; i < length; i += 1) {
    for (let c = 0; c < all.length; c += 1) values[c] = all[c]![i]!;
    core.push(values, channels.measured?.[i] !== 0);
  }
  core.finish();
  return { windowS: WINDOW_S, hopS: TRACK_HOP_S, points: builder.finish() };
}
