// Where a sound begins: spectral flux, the rise of loudness in every band over what is usual for that band.
import { type SoundBands } from "./sound-bands.ts";
import { type BeatPart } from "./sound-beats.ts";
import { sampleAround } from "./sound-quantile-sample.ts";
import { removeBeats } from "./sound-declick.ts";

export interface SoundOnsets {
  readonly frameRateHz: number;
  /** Rise of loudness at each frame, 0 or more; a frame stands for the time k/frameRateHz. Low, middle and high bands. */
  readonly groups: readonly Float64Array[];
  /** The groups together. */
  readonly total: Float64Array;
  /** How many bands `total` is the sum of. */
  readonly bandCount: number;
}

/** Bands below, between and above these make the three groups: body and ground, sole, grains. */
const GROUP_EDGES_HZ = [350, 1800];
const BLOCK_S = 1;
const AROUND_S = 4;
const FLOOR_SHARE = 0.25;
const LOUD_SHARE = 0.95;
/** Whatever is more than this below the loud parts nearby does not count as a sound: 40 dB. */
const DEEPEST_FLOOR = 1e-4;
/** Quieter than a 16-bit file's last bit. */
const SILENCE = 1e-12;
/** Rise from one frame to the second next: the analysis frames overlap by half, so neighbours are not independent. */
const LAG_FRAMES = 2;

/**
 * Spectral flux of half-octave bands after log compression over the band's own floor (25th percentile within ±4 s), so
 * that steady hum and hiss weigh nothing and loud and quiet clips look alike; a metronome's clicks, where `beats` says
 * that there is one, are taken out. Scale-invariant. Cost: one pass.
 */
export function soundOnsets(bands: SoundBands, beats: readonly BeatPart[]): SoundOnsets {
  const { frameCount, frameRateHz } = bands;
  const groups = [0, 1, 2].map(() => new Float64Array(frameCount));
  const bandCounts = [0, 0, 0];
  const loudness = new Float64Array(frameCount);
  const rises = new Float64Array(frameCount);
  bands.power.forEach((power, band) => {
    const group = GROUP_EDGES_HZ.filter((edge) => bands.centresHz[band]! >= edge).length;
    bandCounts[group]! += 1;
    overFloor(power, frameRateHz, loudness);
    for (let frame = LAG_FRAMES; frame < frameCount; frame += 1)
      // The middle of the two frames compared is where the rise is.
      rises[frame - 1] = Math.max(0, loudness[frame]! - loudness[frame - LAG_FRAMES]!);
    removeBeats(rises, frameRateHz, beats);
    const flux = groups[group]!;
    for (let frame = 0; frame < frameCount; frame += 1) flux[frame]! += rises[frame]!;
  });
  const total = new Float64Array(frameCount);
  const kept: Float64Array[] = [];
  groups.forEach((flux, group) => {
    if (bandCounts[group] === 0) return;
    for (let frame = 0; frame < frameCount; frame += 1) total[frame]! += flux[frame]!;
    kept.push(smooth(flux));
  });
  return { frameRateHz, groups: kept, total: smooth(total), bandCount: bands.power.length };
}

/** ln(1 + power/floor) of one band, the floor being its own quiet level nearby. */
function overFloor(power: Float32Array, frameRateHz: number, into: Float64Array): void {
  const block = Math.max(1, Math.round(BLOCK_S * frameRateHz));
  const around = Math.round(AROUND_S * frameRateHz);
  const floorAt = (centre: number): number => {
    const near = sampleAround(power, centre - around, centre + around + 1).sort();
    const quiet = near[Math.floor(FLOOR_SHARE * (near.length - 1))]!;
    const loud = near[Math.floor(LOUD_SHARE * (near.length - 1))]!;
    return Math.max(quiet, loud * DEEPEST_FLOOR, SILENCE);
  };
  let left = floorAt(0);
  for (let start = 0; start < power.length; start += block) {
    const right = floorAt(Math.min(power.length - 1, start + block));
    for (let frame = start; frame < Math.min(power.length, start + block); frame += 1) {
      const share = (frame - start) / block;
      into[frame] = Math.log1p(power[frame]! / (left * (right / left) ** share));
    }
    left = right;
  }
}

/** Weights ¼, ½, ¼: one frame's chance jumps weigh less than a rise that lasts. */
function smooth(flux: Float64Array): Float64Array {
  const smoothed = new Float64Array(flux.length);
  for (let frame = 0; frame < flux.length; frame += 1) {
    const before = flux[Math.max(0, frame - 1)]!;
    const after = flux[Math.min(flux.length - 1, frame + 1)]!;
    smoothed[frame] = (before + 2 * flux[frame]! + after) / 4;
  }
  return smoothed;
}
