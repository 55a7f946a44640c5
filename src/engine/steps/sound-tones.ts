// Music in a recording: tones that hold, several at once, and that change. A motor's hum never changes, speech never holds.
import { createRealFft, hannWindow } from "../signal/real-fft.ts";

/** Long enough to tell neighbouring tones apart. */
const FRAME_S = 0.09;
const LOWEST_HZ = 150;
const HIGHEST_HZ = 2000;
/** A tone stands this much above the lines around it: 15 dB. */
const TONE_RATIO = 30;
const AROUND_LINES = 12;
/** Syllables are shorter. */
const HOLD_S = 0.28;
/** Frames for which a footfall may cover a tone; more would join syllables. */
const MOST_COVERED = 1;
/** A tone that sounds for more of an excerpt than this, all in all, is a hum. */
const HUM_SHARE = 0.6;
const TOGETHER = 2;
const EXCERPT_S = 10;
const MOST_EXCERPTS = 24;

/** Share of the time, 0 to 1, in which at least two changing tones hold. Looks at up to 24 excerpts of 10 s. */
export function musicShare(samples: Float32Array, sampleRateHz: number): number {
  const durationS = samples.length / sampleRateHz;
  const available = Math.max(1, Math.floor(durationS / EXCERPT_S));
  const count = Math.min(available, MOST_EXCERPTS);
  let total = 0;
  for (let excerpt = 0; excerpt < count; excerpt += 1) {
    const startS = Math.floor(((excerpt + 0.5) * available) / count) * EXCERPT_S;
    const from = Math.round(startS * sampleRateHz);
    total += toneShare(samples.subarray(from, from + Math.round(EXCERPT_S * sampleRateHz)), sampleRateHz) / count;
  }
  return total;
}

/** A tone that sounds, or was covered a moment ago. */
interface Tone {
  readonly line: number;
  readonly since: number;
  readonly last: number;
}

function toneShare(samples: Float32Array, sampleRateHz: number): number {
  const size = 2 ** Math.round(Math.log2(FRAME_S * sampleRateHz));
  const hop = size / 2;
  const frameCount = Math.floor((samples.length - size) / hop) + 1;
  const lineHz = sampleRateHz / size;
  const from = Math.ceil(LOWEST_HZ / lineHz);
  const to = Math.floor(HIGHEST_HZ / lineHz);
  const leastHold = Math.ceil((HOLD_S * sampleRateHz) / hop);
  if (frameCount < 2 * leastHold) return 0;
  const fft = createRealFft(size);
  const window = hannWindow(size);
  const frame = new Float64Array(size);
  const power = new Float64Array(size / 2 + 1);
  const together = new Int32Array(frameCount);
  let open: Tone[] = [];
  const closed: Tone[] = [];
  const sounding = new Int32Array(size / 2 + 1);
  for (let at = 0; at < frameCount; at += 1) {
    for (let index = 0; index < size; index += 1) frame[index] = samples[at * hop + index]! * window[index]!;
    power.fill(0);
    fft.addPower(frame, power);
    const next: Tone[] = [];
    for (const line of tonesOf(power, from, to)) {
      const before = open.find((tone) => Math.abs(tone.line - line) <= 1);
      next.push({ line, since: before?.since ?? at, last: at });
      sounding[line]! += 1;
    }
    for (const tone of open) {
      if (next.some(({ line }) => Math.abs(line - tone.line) <= 1)) continue;
      if (at - tone.last > MOST_COVERED) closed.push(tone);
      else next.push(tone);
    }
    open = next;
  }
  closed.push(...open);
  for (const { line, since, last } of closed) {
    const held = sounding[line - 1]! + sounding[line]! + sounding[line + 1]!;
    if (last + 1 - since < leastHold || held > HUM_SHARE * frameCount) continue;
    for (let at = since; at <= last; at += 1) together[at]! += 1;
  }
  let frames = 0;
  for (const tones of together) if (tones >= TOGETHER) frames += 1;
  return frames / frameCount;
}

/** Lines that are local maxima and stand out. */
function tonesOf(power: Float64Array, from: number, to: number): readonly number[] {
  const tones: number[] = [];
  for (let line = from; line <= to; line += 1) {
    const here = power[line]!;
    if (!(here > power[line - 1]! && here >= power[line + 1]!)) continue;
    const around = power.slice(Math.max(0, line - AROUND_LINES), line + AROUND_LINES + 1).sort();
    if (here > TONE_RATIO * around[around.length >> 1]!) tones.push(line);
  }
  return tones;
}
