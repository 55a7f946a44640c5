import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { anySchedule, scheduleOf, session } from "../../../tests/beat-sessions.ts";
import { firstDifference, joinChunks, locate } from "../../../tests/sound-measure.ts";
import { PEAK_CEILING_DBFS, RMS_CEILING_DBFS } from "../evidence/beats.ts";
import { CLICK_SOUNDS, clickSamples } from "./clicks.ts";
import { renderBeat } from "./render.ts";
import { type BeatSchedule } from "./schedule.ts";

const HOUR_S = 3600;

/** Exact beat times by phase: steady f·t = k, ramp f0·t + (f1 − f0)·t²/(2T) = k; worked out here, apart from the engine. */
function exactTimesS(startSpm: number, endSpm: number): number[] {
  const [f0, f1] = [startSpm / 60, endSpm / 60];
  // Rates have one decimal, so tenths are whole numbers and the count is exact.
  const beats = 3 * Math.round(10 * (startSpm + endSpm));
  return Array.from({ length: beats }, (_, beat) => {
    let timeS = (beat / beats) * HOUR_S;
    for (let round = 0; round < 30; round += 1) {
      const phase = f0 * timeS + ((f1 - f0) * timeS * timeS) / (2 * HOUR_S);
      timeS -= (phase - beat) / (f0 + ((f1 - f0) * timeS) / HOUR_S);
    }
    return timeS;
  });
}

describe("rendered beat", () => {
  it.each([
    ["integer rate", 180, 180, 22_050],
    ["fractional rate", 173.3, 173.3, 44_100],
    ["fractional rate", 166.7, 166.7, 48_000],
    ["rising ramp", 160, 176, 44_100],
    ["falling ramp", 181.5, 165, 22_050],
  ])(
    "closed form: cross-correlation finds every click of an hour within a twelfth of a sample (wanted: half): %s %s to %s spm at %s Hz",
    (_, startSpm, endSpm, sampleRateHz) => {
      const schedule = scheduleOf(
        session({ kind: "cue-on", durationS: HOUR_S, stepRateSpm: startSpm, endStepRateSpm: endSpm }),
        { sampleRateHz },
      );
      const sound = joinChunks(renderBeat(schedule, { clickId: "wood" }));
      const templates = (["left", "right"] as const).map((voice) =>
        clickSamples("wood", { sampleRateHz, voice, accent: false, kind: "click" }).subarray(0, sampleRateHz / 100),
      );
      let worst = 0;
      const timesS = exactTimesS(startSpm, endSpm);
      for (const [beat, timeS] of timesS.entries()) {
        const exact = timeS * sampleRateHz;
        worst = Math.max(worst, Math.abs(locate(sound, templates[beat % 2]!, exact, 6) - exact));
      }
      // A sixteenth from the eighths that clicks are made at; the parabola's own error is below 0.02.
      expect(worst).toBeLessThanOrEqual(0.0825);
      expect(worst).toBeGreaterThan(0);
      expect(countOnsets(sound, sampleRateHz)).toBe(timesS.length);
    },
  );

  it("property: any session stays under the peak ceiling, has no mean, and its length is as stated", () => {
    fc.assert(
      fc.property(anySchedule, fc.constantFrom(...CLICK_SOUNDS.map(({ id }) => id)), (schedule, clickId) => {
        const sound = joinChunks(renderBeat(schedule, { clickId }));
        expect(sound.length).toBe(schedule.sampleCount);
        const { peak, mean } = peakAndMean(sound);
        expect(peak).toBeLessThanOrEqual(32_767 * 10 ** (PEAK_CEILING_DBFS.value / 20));
        expect(Math.abs(mean)).toBeLessThan(1);
      }),
      { seed: 20_261_125, numRuns: 30 },
    );
  });

  it.each(CLICK_SOUNDS)("$name at 220 spm with accents stays under the loudness ceiling in every second", ({ id }) => {
    const sampleRateHz = 44_100;
    const schedule = scheduleOf(
      { stepRateSpm: 220, durationS: 20 },
      { accentEvery: 2, announce: true, countInBeats: 8 },
    );
    const sound = joinChunks(renderBeat(schedule, { clickId: id }));
    for (let second = 0; (second + 1) * sampleRateHz <= sound.length; second += 1) {
      const part = sound.subarray(second * sampleRateHz, (second + 1) * sampleRateHz);
      const rms = Math.sqrt(part.reduce((sum, value) => sum + (value / 32_767) ** 2, 0) / part.length);
      expect(20 * Math.log10(rms)).toBeLessThan(RMS_CEILING_DBFS.value);
    }
  });

  it("slow twin: chunks joined equal every sound laid into one long array", () => {
    const schedule = scheduleOf(
      session(
        { kind: "cue-on", durationS: 17, stepRateSpm: 173.3 },
        { kind: "cue-off", durationS: 3 },
        { kind: "strides", durationS: 11, stepRateSpm: 190, endStepRateSpm: 200 },
      ),
      { countInBeats: 2, accentEvery: 4 },
    );
    expect(firstDifference(joinChunks(renderBeat(schedule, { clickId: "knock" })), layIn(schedule))).toBe(-1);
  });

  it("a click that the next one overtakes is cut, so two never add up", () => {
    // Beats at 0, 0.4 and, after 20 ms of silence, 0.421 s: the last two overlap by 49 ms.
    const schedule = scheduleOf(
      session(
        { kind: "cue-on", durationS: 0.401, stepRateSpm: 150 },
        { kind: "cue-off", durationS: 0.02 },
        { kind: "cue-on", durationS: 0.3, stepRateSpm: 150 },
      ),
    );
    const sound = joinChunks(renderBeat(schedule, { clickId: "glass" }));
    const at = Math.round(0.421 * 44_100);
    // 0.421 s is sample 18,566.1: an eighth, rounded.
    const click = clickSamples("glass", {
      sampleRateHz: 44_100,
      voice: "left",
      accent: false,
      kind: "click",
      lateBySamples: 0.125,
    });
    const expected = click.map((value) => Math.round(value * 32_767));
    expect(firstDifference(sound.subarray(at, at + click.length), expected)).toBe(-1);
  });

  it("chunks are at most four seconds long, whatever the track", () => {
    for (const chunk of renderBeat(scheduleOf({ stepRateSpm: 170, durationS: 901 }), { clickId: "tick" }))
      expect(chunk.length).toBeLessThanOrEqual(4 * 44_100);
  });
});

function layIn(schedule: BeatSchedule): Int16Array {
  const sound = new Int16Array(schedule.sampleCount);
  for (const segment of schedule.segments)
    for (let index = 0; index < segment.beatCount; index += 1) {
      const { startS, rateHz, slopeHz2, toFirstBeat } = segment.clock;
      const phase = toFirstBeat + index;
      const timeS =
        slopeHz2 === 0 ? phase / rateHz : (-rateHz + Math.sqrt(rateHz ** 2 + 2 * slopeHz2 * phase)) / slopeHz2;
      const beat = segment.firstBeat + index;
      const samples = (startS + timeS) * schedule.sampleRateHz;
      const at = Math.round(samples);
      const click = clickSamples("knock", {
        sampleRateHz: schedule.sampleRateHz,
        voice: beat % 2 === 0 ? "left" : "right",
        accent: segment.kind === "click" && beat % 4 === 0,
        kind: segment.kind,
        lateBySamples: Math.round(8 * (samples - at)) / 8,
      });
      click.forEach((value, offset) => (sound[at + offset] = Math.round(value * 32_767)));
    }
  return sound;
}

function peakAndMean(sound: Int16Array): { readonly peak: number; readonly mean: number } {
  let peak = 0;
  let sum = 0;
  for (let index = 0; index < sound.length; index += 1) {
    peak = Math.max(peak, Math.abs(sound[index]!));
    sum += sound[index]!;
  }
  return { peak, mean: sum / sound.length };
}

/** Counts sounds that rise out of at least 20 ms of silence. */
function countOnsets(sound: Int16Array, sampleRateHz: number): number {
  let onsets = 0;
  let silent = sampleRateHz;
  for (let index = 0; index < sound.length; index += 1) {
    if (Math.abs(sound[index]!) < 300) silent += 1;
    else {
      if (silent > 0.02 * sampleRateHz) onsets += 1;
      silent = 0;
    }
  }
  return onsets;
}
