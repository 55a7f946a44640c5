// Sharp rises in narrow channels, timed to a millisecond or two: where a metronome's clicks stand out from everything else.
import { createRealFft, hannWindow } from "../signal/real-fft.ts";
import { sampleAround } from "./sound-quantile-sample.ts";

export interface ChannelPeaks {
  readonly centreHz: number;
  /** Times of clear rises, seconds from the block's start, ascending. */
  readonly timesS: readonly number[];
}

const FRAME_S = 0.016;
const HOP_S = 0.004;
const LOWEST_HZ = 300;
const HIGHEST_HZ = 8000;
const CHANNEL_HZ = 100;
/** A rise counts when it is at least this share of the channel's largest ones (its 98th percentile). */
const CLEAR_SHARE = 0.4;
/** And when it is at least this much, nats (6 dB). */
const LEAST_RISE = 1.4;
/** Two frames back, so that the frames compared overlap by half. */
const LAG = 2;

/** Peaks of the log-power rise in channels of about 100 Hz, 300 Hz to 8 kHz. `samples` is a block of some seconds. */
export function channelPeaks(samples: Float32Array, sampleRateHz: number): readonly ChannelPeaks[] {
  const hop = Math.max(1, Math.round(HOP_S * sampleRateHz));
  const length = Math.round(FRAME_S * sampleRateHz);
  const fft = createRealFft(2 ** Math.ceil(Math.log2(length)));
  const window = hannWindow(length);
  const channels = channelLines(sampleRateHz, fft.size);
  const frameCount = Math.max(0, Math.floor((samples.length - length) / hop) + 1);
  const levels = channels.map(() => new Float64Array(frameCount));
  const frames = [new Float64Array(length), new Float64Array(length)] as const;
  const powers = [new Float64Array(fft.size / 2 + 1), new Float64Array(fft.size / 2 + 1)] as const;
  for (let frame = 0; frame < frameCount; frame += 2) {
    for (const side of [0, 1] as const) {
      const start = Math.min(frame + side, frameCount - 1) * hop;
      for (let index = 0; index < length; index += 1) frames[side][index] = samples[start + index]! * window[index]!;
      powers[side].fill(0);
    }
    fft.addPowerOfTwo(frames[0], frames[1], powers[0], powers[1]);
    channels.forEach(({ from, to }, channel) => {
      for (const side of [0, 1] as const) {
        let sum = 0;
        for (let line = from; line < to; line += 1) sum += powers[side][line]!;
        if (frame + side < frameCount) levels[channel]![frame + side] = sum;
      }
    });
  }
  const centreOfFirstS = length / 2 / sampleRateHz;
  return channels.map(({ centreHz }, channel) => ({
    centreHz,
    timesS: risePeaks(levels[channel]!).map((frame) => centreOfFirstS + (frame * hop) / sampleRateHz),
  }));
}

function channelLines(sampleRateHz: number, size: number): { centreHz: number; from: number; to: number }[] {
  const lineHz = sampleRateHz / size;
  const top = Math.min(HIGHEST_HZ, 0.45 * sampleRateHz);
  const channels: { centreHz: number; from: number; to: number }[] = [];
  for (let lowHz = LOWEST_HZ; lowHz + CHANNEL_HZ <= top; lowHz += CHANNEL_HZ) {
    const from = Math.round(lowHz / lineHz);
    channels.push({
      centreHz: lowHz + CHANNEL_HZ / 2,
      from,
      to: Math.max(from + 1, Math.round((lowHz + CHANNEL_HZ) / lineHz)),
    });
  }
  return channels;
}

/** Frames, with fractions, at which the level rises fastest. Overwrites `power`. */
function risePeaks(power: Float64Array): number[] {
  const n = power.length;
  if (n < 50) return [];
  const sorted = sampleAround(power, 0, n).sort();
  const floor = Math.max(sorted[sorted.length >> 1]!, sorted.at(-1)! * 1e-5);
  if (!(floor > 0)) return [];
  for (let frame = 0; frame < n; frame += 1) power[frame] = Math.log1p(power[frame]! / floor);
  const rise = new Float64Array(n);
  for (let frame = LAG; frame < n; frame += 1) rise[frame - LAG / 2] = Math.max(0, power[frame]! - power[frame - LAG]!);
  const ordered = sampleAround(rise, 0, n).sort();
  const least = Math.max(LEAST_RISE, CLEAR_SHARE * ordered[Math.floor(0.98 * (ordered.length - 1))]!);
  const peaks: number[] = [];
  for (let frame = 1; frame + 1 < n; frame += 1) {
    const here = rise[frame]!;
    if (here < least || here <= rise[frame - 1]! || here < rise[frame + 1]!) continue;
    const bend = 2 * here - rise[frame - 1]! - rise[frame + 1]!;
    peaks.push(frame + (bend > 0 ? (rise[frame + 1]! - rise[frame - 1]!) / (2 * bend) : 0));
  }
  return peaks;
}
