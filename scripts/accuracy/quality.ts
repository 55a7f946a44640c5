// How often the stated probability of a rate is right: invented recordings of all kinds, none of which was used to fit it.
import { createRandom } from "../../src/engine/quantities/random.ts";
import { analyseMotion } from "../../src/engine/steps/analyse-motion.ts";
import { type Placement } from "../../src/engine/synthetic/body-motion.ts";
import { makeSyntheticMotion } from "../../src/engine/synthetic/synthetic-motion.ts";

const PLACEMENTS: readonly Placement[] = ["waist", "pocket", "hand", "armband", "wrist", "ankle"];
const RECORDINGS_EACH = 150;
const FLOORS = [0.99, 0.98, 0.95, 0.9, 0.8, 0.7, 0.5, 0] as const;
const HALF_WINDOW_S = 2.5;

/** Running at 120–230 spm, walking at 70–140, one changing into the other, with every fault that a phone adds. */
export function motionQuality(): string {
  const rows = FLOORS.map((floor) => ({ floor, count: 0, right: 0, octaves: 0, said: 0 }));
  for (const [p, placement] of PLACEMENTS.entries())
    for (let i = 0; i < RECORDINGS_EACH; i += 1) {
      const seed = 910_000 + 1000 * p + i;
      const random = createRandom(seed);
      const running = { state: "running" as const, durationS: 20, stepRateSpm: 120 + 110 * random.next() };
      const walking = { state: "walking" as const, durationS: 20, stepRateSpm: 70 + 70 * random.next() };
      const made = makeSyntheticMotion({
        seed,
        placement,
        sampleRateHz: [20, 25, 50, 100, 200][random.below(5)]!,
        asymmetryPercent: 15 * random.next(),
        gravity: random.next() < 0.3 ? "removed" : "included",
        noiseMps2: 0.05 + 2 * random.next() ** 2,
        clipMps2: [160, 78.5, 39.2, 19.6][random.below(4)]!,
        clockJitterShare: 0.4 * random.next(),
        dropOutsPerMinute: random.next() < 0.3 ? 6 : 0,
        turningRad: 2 * random.next(),
        segments: [[running], [running], [walking], [running, walking], [walking, running]][random.below(5)]!,
      });
      for (const { timeS, stepRateSpm, quality } of analyseMotion(made.recording).track.points) {
        if (stepRateSpm === null) continue;
        const near = made.stepTimesS.filter((step) => Math.abs(step - timeS) <= HALF_WINDOW_S);
        const trueSpm = near.length < 3 ? Number.NaN : (60 * (near.length - 1)) / (near.at(-1)! - near[0]!);
        const row = rows.find(({ floor }) => quality >= floor)!;
        const ratio = stepRateSpm / trueSpm;
        row.count += 1;
        row.said += quality;
        if (Math.abs(stepRateSpm - trueSpm) <= 2) row.right += 1;
        if (ratio > 1.7 || (ratio > 0.4 && ratio < 0.6)) row.octaves += 1;
      }
    }
  const percent = (part: number, whole: number) => `${((100 * part) / whole).toFixed(1)} %`;
  return [
    "## Steps from motion: how sure, and how often right",
    "",
    `Each point's stated probability that its rate is within 2 spm, against what was so: ${PLACEMENTS.length * RECORDINGS_EACH} invented recordings, none used to fit it. Running at 120–230 spm, walking at 70–140, and the one changing into the other (where one rate cannot be right); 20–200 Hz, asymmetry to 15 %, noise to 2 m/s², sensors that stop at 2 to 16 g, lost samples, turning.`,
    "",
    "| stated | mean stated | within 2 spm | half or double | points |",
    "| --- | --- | --- | --- | --- |",
    ...rows.map(({ floor, count, right, octaves, said }, i) => {
      const name = i === 0 ? `${floor} and more` : `${floor}–${FLOORS[i - 1]!}`;
      return count === 0
        ? `| ${name} | — | — | — | 0 |`
        : `| ${name} | ${(said / count).toFixed(3)} | ${percent(right, count)} | ${octaves} | ${count} |`;
    }),
  ].join("\n");
}
