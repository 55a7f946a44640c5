import { describe, expect, it } from "vitest";
import { createRandom } from "../quantities/random.ts";
import { type MetronomeOptions, metronomeSound } from "../synthetic/sound-beats.ts";
import { fitBeatGrid } from "./sound-beat-grid.ts";
import { beatsPerMinute, findBeats } from "./sound-beats.ts";
import { removeBeats } from "./sound-declick.ts";

const RATE_HZ = 16_000;

function clicksInNoise(options: Partial<MetronomeOptions>, noise: number): Float32Array {
  const random = createRandom(4);
  const clicks = metronomeSound(20 * RATE_HZ, RATE_HZ, {
    beatsPerMinute: 170,
    firstBeatS: 0.3,
    pitchHz: 1000,
    woodShare: 0,
    accentEvery: 0,
    ...options,
  });
  return Float32Array.from(clicks, (value) => 0.3 * value + noise * random.normal());
}

describe("findBeats", () => {
  it("closed form: clicks at 170 a minute from 0.3 s: tempo to 0.05, phase to 6 ms", () => {
    const [part] = findBeats(clicksInNoise({}, 0.01), RATE_HZ);
    if (part === undefined) expect.fail("no beat found");
    expect(Math.abs(beatsPerMinute(part.grid) - 170)).toBeLessThan(0.05);
    const turns = (0.3 - part.grid.beatS) / part.grid.intervalS;
    expect(Math.abs(turns - Math.round(turns)) * part.grid.intervalS).toBeLessThan(0.006);
  });

  it("clicks of two pitches in turn, each in its own channels, are one metronome at full tempo", () => {
    const [part] = findBeats(clicksInNoise({ accentEvery: 2 }, 0.08), RATE_HZ);
    expect(part === undefined ? 0 : Math.round(beatsPerMinute(part.grid))).toBe(170);
  });

  it("finds nothing in noise, in silence, in a clip of five seconds", () => {
    expect(findBeats(clicksInNoise({ firstBeatS: 99 }, 0.1), RATE_HZ)).toEqual([]);
    expect(findBeats(new Float32Array(20 * RATE_HZ), RATE_HZ)).toEqual([]);
    expect(findBeats(clicksInNoise({}, 0.01).subarray(0, 5 * RATE_HZ), RATE_HZ)).toEqual([]);
  });
});

describe("fitBeatGrid", () => {
  const times = (spreadS: number, seed: number): number[] => {
    const random = createRandom(seed);
    return Array.from({ length: 55 }, (_, beat) => 0.1 + 0.35 * beat + spreadS * random.normal());
  };

  it("simulation: a machine's half millisecond passes, a runner's 7 ms does not, in 40 draws each", () => {
    for (let seed = 0; seed < 40; seed += 1) {
      expect(fitBeatGrid(times(0.0005, seed), 20)?.intervalS).toBeCloseTo(0.35, 3);
      expect(fitBeatGrid(times(0.007, seed), 20)).toBeUndefined();
    }
  });

  it("closed form: every fourth beat missing is still the same grid; every second second of it is not", () => {
    const exact = times(0, 1);
    const accented = fitBeatGrid(
      exact.filter((_, beat) => beat % 4 !== 0),
      20,
    );
    expect(accented?.intervalS).toBeCloseTo(0.35, 6);
    expect(
      fitBeatGrid(
        exact.filter((timeS) => timeS < 8),
        20,
      ),
    ).toBeUndefined();
  });
});

describe("removeBeats", () => {
  it("closed form: clicks go, steps at another tempo stay, the background keeps its level", () => {
    const frameRateHz = 100;
    const flux = new Float64Array(2000);
    const random = createRandom(9);
    for (let frame = 0; frame < flux.length; frame += 1) flux[frame] = random.next();
    const beats = Array.from({ length: 59 }, (_, beat) => Math.round((0.2 + beat / 3) * frameRateHz));
    const steps = Array.from({ length: 50 }, (_, step) => Math.round((0.37 + 0.389 * step) * frameRateHz));
    for (const frame of beats) flux[frame] = flux[frame]! + 8;
    for (const frame of steps) flux[frame] = flux[frame]! + 8;
    removeBeats(flux, frameRateHz, [{ startS: 0, endS: 20, grid: { intervalS: 1 / 3, beatS: 0.2 } }]);
    const meanOf = (frames: readonly number[]): number =>
      frames.reduce((sum, frame) => sum + flux[frame]!, 0) / frames.length;
    const apart = (frames: readonly number[], others: readonly number[]): readonly number[] =>
      frames.filter((frame) => others.every((other) => Math.abs(frame - other) > 3));
    expect(meanOf(apart(beats, steps))).toBeLessThan(1);
    // No hole either: a hole at every beat would beat in time itself.
    expect(meanOf(apart(beats, steps))).toBeGreaterThan(0.25);
    expect(meanOf(apart(steps, beats))).toBeGreaterThan(6);
    const rest = Array.from(flux.keys()).filter(
      (frame) => ![...beats, ...steps].some((at) => Math.abs(at - frame) < 2),
    );
    expect(Math.abs(meanOf(rest) - 0.5)).toBeLessThan(0.1);
  });
});
