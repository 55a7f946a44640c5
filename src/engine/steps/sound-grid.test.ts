import { describe, expect, it } from "vitest";
import { scoreContacts } from "../../../tests/score-contacts.ts";
import { type Random, createRandom } from "../quantities/random.ts";
import { type SoundSceneOptions, createSoundScene } from "../synthetic/sound-scene.ts";
import { analyseSound } from "./analyse-sound.ts";

const pick = <T>(random: Random, values: readonly T[]): T => values[random.below(values.length)]!;

/** Surfaces × backgrounds × noise × sample rates × feet that sound unlike, by the seed. */
function sceneOptions(seed: number, random: Random, stepRateSpm: number): SoundSceneOptions {
  return {
    seed,
    durationS: 15,
    sampleRateHz: pick(random, [8000, 11_025, 16_000, 16_000, 44_100]),
    stepRateSpm: () => stepRateSpm,
    surface: pick(random, ["belt", "gravel", "track", "floor", "grass"]),
    background: pick(random, ["hiss", "wind", "traffic", "belt-hum", "talk"]),
    signalToNoiseDb: pick(random, [20, 10, 3]),
    otherFootDb: pick(random, [0, -3, -6, -10]),
    otherFootPitchRatio: 0.8 + 0.5 * random.next(),
    asymmetryPercent: 8 * random.next(),
    secondTapS: random.next() < 0.5 ? 0 : 0.04 + 0.06 * random.next(),
    jitterShare: 0.01 + 0.03 * random.next(),
  };
}

describe("analyseSound on invented footfalls", () => {
  it("simulation: 40 runs of 140 to 200 spm, mean rate within 1 spm in 95 %, no octave error, contacts F1 at least 0.95", () => {
    const random = createRandom(20261125);
    const failures: string[] = [];
    let rateMisses = 0;
    let scoreSum = 0;
    for (let run = 0; run < 40; run += 1) {
      const trueSpm = 140 + random.below(61);
      const options = sceneOptions(100 + run, random, trueSpm);
      const scene = createSoundScene(options);
      const analysis = analyseSound(scene.recording);
      const rates = analysis.windows.flatMap(({ stepRateSpm }) => (stepRateSpm === null ? [] : [stepRateSpm]));
      const tag = `${trueSpm} spm, ${options.surface}, ${options.background} ${options.signalToNoiseDb} dB, other foot ${options.otherFootDb} dB`;
      if (rates.some((rate) => Math.abs(Math.log2(rate / trueSpm)) > 0.3))
        failures.push(`octave: ${tag}: ${rates.join()}`);
      const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
      if (!(Math.abs(mean - trueSpm) <= 1)) rateMisses += 1;
      scoreSum += scoreContacts(analysis.stepTimesS, scene.stepTimesS, { toleranceS: 0.06, maxOffsetS: 0 }).f1;
      const alarms = analysis.warnings.filter(({ code }) => code !== "sound-clipped");
      if (alarms.length > 0) failures.push(`false alarm: ${tag}: ${alarms[0]!.code}`);
    }
    expect(failures).toEqual([]);
    expect(rateMisses).toBeLessThanOrEqual(2);
    expect(scoreSum / 40).toBeGreaterThanOrEqual(0.95);
  }, 120_000);

  it("simulation: 20 walks of 80 to 120 a minute are never called running, nor doubled", () => {
    const random = createRandom(7);
    let answered = 0;
    const scores: number[] = [];
    for (let run = 0; run < 20; run += 1) {
      const trueSpm = 80 + random.below(41);
      const scene = createSoundScene({
        ...sceneOptions(500 + run, random, trueSpm),
        secondTapS: 0.08 + 0.07 * random.next(),
      });
      const analysis = analyseSound(scene.recording);
      // Contacts of a walk that was answered throughout are its steps, not the places between.
      if (analysis.track.points.every((point) => point.stepRateSpm !== null))
        scores.push(scoreContacts(analysis.stepTimesS, scene.stepTimesS, { toleranceS: 0.06, maxOffsetS: 0 }).f1);
      for (const window of analysis.windows) {
        if (window.stepRateSpm === null) continue;
        answered += 1;
        expect(window.stepRateSpm, `${run}`).toBeLessThan(1.15 * trueSpm);
        expect(window.stepRateSpm, `${run}`).toBeGreaterThan(0.85 * trueSpm);
      }
    }
    // Guards the check itself: most walks do get an answer.
    expect(answered).toBeGreaterThan(20);
    expect(scores.length).toBeGreaterThan(4);
    expect(scores.reduce((sum, score) => sum + score, 0) / scores.length).toBeGreaterThan(0.9);
  }, 120_000);

  it("simulation: a foot that cannot be heard gives no rate or the true one, never half, in quiet surroundings", () => {
    for (const [index, surface] of (["belt", "track", "floor"] as const).entries()) {
      const scene = createSoundScene({
        seed: 40 + index,
        durationS: 20,
        sampleRateHz: 16_000,
        stepRateSpm: () => 168,
        surface,
        background: "hiss",
        signalToNoiseDb: 20,
        otherFootDb: -18,
      });
      for (const { stepRateSpm } of analyseSound(scene.recording).windows)
        if (stepRateSpm !== null) expect(Math.abs(stepRateSpm - 168)).toBeLessThan(2.5);
    }
  });

  it("simulation: a stop of ten seconds has no contacts and no rate, and a tempo ramp is followed", () => {
    const scene = createSoundScene({
      seed: 3,
      durationS: 60,
      sampleRateHz: 16_000,
      stepRateSpm: (timeS) => (timeS > 25 && timeS < 35 ? 0 : 155 + 0.4 * timeS),
      surface: "belt",
      background: "traffic",
      signalToNoiseDb: 15,
    });
    const { track, stepTimesS } = analyseSound(scene.recording);
    const inStop = [...stepTimesS].filter((timeS) => timeS > 26 && timeS < 34);
    expect(inStop).toEqual([]);
    for (const point of track.points) {
      if (point.timeS > 28 && point.timeS < 32) expect(point.stepRateSpm).toBeNull();
      else if (point.stepRateSpm !== null)
        expect(Math.abs(point.stepRateSpm - (155 + 0.4 * point.timeS)), `at ${point.timeS} s`).toBeLessThan(2.5);
    }
    expect(track.points.filter((point) => point.stepRateSpm !== null).length).toBeGreaterThan(35);
  });
});
