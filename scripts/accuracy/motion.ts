// The accuracy tables of steps from motion: invented recordings by placement, open recordings by data set, beside an
// ordinary scipy estimate.
import { spawnSync } from "node:child_process";
import path from "node:path";
import { createRandom } from "../../src/engine/quantities/random.ts";
import { type MotionRecording } from "../../src/engine/recordings/recording.ts";
import { analyseMotion } from "../../src/engine/steps/analyse-motion.ts";
import { type Placement } from "../../src/engine/synthetic/body-motion.ts";
import { makeSyntheticMotion, type SyntheticMotion } from "../../src/engine/synthetic/synthetic-motion.ts";
import { scoreContacts } from "../../tests/score-contacts.ts";
import { readBackForce, readHipAnkle, readWalking } from "../open-data/motion.ts";

const PLACEMENTS: readonly Placement[] = ["waist", "pocket", "hand", "armband", "wrist", "ankle"];
const CARRIED = ["armband", "backpocket", "bag", "frontpocket", "hand", "neckpouch"];
const RECORDINGS_EACH = 60;

interface Asked {
  readonly name: string;
  readonly recording: MotionRecording;
  readonly windows: readonly (readonly [number, number])[];
}
interface Estimate {
  readonly name: string;
  readonly ratesSpm: readonly (number | null)[];
  readonly peakCount: number;
}

/** Step rates of the ordinary estimate, or undefined where python3 with scipy is missing. */
function askScipy(asked: readonly Asked[]): ReadonlyMap<string, Estimate> | undefined {
  const recordings = asked.map(({ name, recording, windows }) => ({
    name,
    timeS: Array.from(recording.timeS),
    normMps2: Array.from(recording.timeS, (_, i) =>
      Math.hypot(recording.accelXMps2[i]!, recording.accelYMps2[i]!, recording.accelZMps2[i]!),
    ),
    windows,
  }));
  const script = path.resolve(import.meta.dirname, "../../oracles/steps/estimate.py");
  const run = spawnSync("python3", [script], {
    input: JSON.stringify({ recordings }),
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  if (run.status !== 0) return undefined;
  const answer = JSON.parse(run.stdout) as { readonly recordings: readonly Estimate[] };
  return new Map(answer.recordings.map((estimate) => [estimate.name, estimate]));
}

function trueRate(made: SyntheticMotion, fromS: number, toS: number): number {
  const near = made.stepTimesS.filter((time) => time >= fromS && time <= toS);
  return (60 * (near.length - 1)) / (near.at(-1)! - near[0]!);
}

/** Running at 140–200 spm for 30 s, sampled at 25–100 Hz, asymmetry 0–8 %, noise, losses, clipping, turning. */
export function motionInvented(): string {
  const rows: string[] = [];
  for (const placement of PLACEMENTS) {
    const cases = Array.from({ length: RECORDINGS_EACH }, (_, i) => {
      const random = createRandom(70_000 + i);
      return makeSyntheticMotion({
        seed: 70_000 + i,
        placement,
        sampleRateHz: [25, 50, 100][i % 3]!,
        asymmetryPercent: 8 * random.next(),
        gravity: random.next() < 0.3 ? "removed" : "included",
        noiseMps2: 0.05 + 0.5 * random.next(),
        clipMps2: [160, 78.5, 39.2, 19.6][random.below(4)]!,
        clockJitterShare: 0.2 * random.next(),
        dropOutsPerMinute: random.next() < 0.3 ? 3 : 0,
        turningRad: random.next(),
        segments: [{ state: "running", durationS: 30, stepRateSpm: 140 + random.below(61) }],
      });
    });
    const windows = [
      [5, 15],
      [10, 20],
      [15, 25],
    ] as const;
    const scipy = askScipy(cases.map((made, i) => ({ name: String(i), recording: made.recording, windows })));
    let points = 0;
    let answered = 0;
    let octaves = 0;
    const errors: number[] = [];
    let scipyRight = 0;
    let scipyOctaves = 0;
    let windowsAsked = 0;
    const scores: number[] = [];
    cases.forEach((made, c) => {
      const analysis = analyseMotion(made.recording);
      points += analysis.track.points.length;
      for (const window of analysis.windows) {
        if (window.stepRateSpm === null || window.endS - window.startS < 9.9) continue;
        const truth = trueRate(made, window.startS, window.endS);
        errors.push(Math.abs(window.stepRateSpm - truth));
      }
      const whole = trueRate(made, 0, 30);
      for (const point of analysis.track.points) {
        if (point.stepRateSpm === null) continue;
        answered += 1;
        if (point.stepRateSpm > 1.3 * whole || point.stepRateSpm < 0.77 * whole) octaves += 1;
      }
      if (c % 3 !== 0)
        scores.push(scoreContacts(analysis.stepTimesS, made.stepTimesS, { toleranceS: 0.06, maxOffsetS: 0.25 }).f1);
      scipy?.get(String(c))?.ratesSpm.forEach((rate, w) => {
        windowsAsked += 1;
        const truth = trueRate(made, windows[w]![0], windows[w]![1]);
        if (rate !== null && Math.abs(rate - truth) <= 2) scipyRight += 1;
        if (rate !== null && (rate > 1.3 * truth || rate < 0.77 * truth)) scipyOctaves += 1;
      });
    });
    const within = (limit: number): string => percent(errors.filter((error) => error <= limit).length, errors.length);
    const f1 = scores.reduce((sum, score) => sum + score, 0) / scores.length;
    rows.push(
      `| ${placement} | ${percent(answered, points)} | ${within(1)} | ${within(2)} | ${octaves} | ${f1.toFixed(3)} | ${
        scipy === undefined
          ? "not run"
          : `${percent(scipyRight, windowsAsked)} | ${percent(scipyOctaves, windowsAsked)}`
      } |`,
    );
  }
  return `## Steps from motion: invented recordings

${RECORDINGS_EACH} recordings of 30 s for each placement: 140–200 spm, 25–100 Hz, asymmetry up to 8 %, noise, lost samples, sensors that stop at 2 to 16 g, gravity in or out, slow turning. Ten-second windows against the true steps. The last two columns are an ordinary estimate with scipy (band-pass, autocorrelation of the norm) on the same recordings.

| placement | points answered | within 1 spm | within 2 spm | octave errors | contacts F1 (± 60 ms, 50 Hz and more) | scipy within 2 spm | scipy octave errors |
| --- | --- | --- | --- | --- | --- | --- | --- |
${rows.join("\n")}`;
}

function percent(part: number, of: number): string {
  return of === 0 ? "–" : `${((100 * part) / of).toFixed(1)} %`;
}

export function motionOpenData(folder: string): string {
  const trials = readBackForce(folder);
  const { hip, ankle } = readHipAnkle(folder);
  const walks = CARRIED.map((carried) => ({ carried, ...readWalking(folder, carried) }));
  const hipAnalysis = analyseMotion(hip);
  const ankleAnalysis = analyseMotion(ankle);
  const spans = hipAnalysis.windows.map((window) => [window.startS, window.endS] as const);
  const scipy = askScipy([
    ...trials.map((trial, i) => ({ name: `trial ${i}`, recording: trial.recording, windows: [[0, 5]] as const })),
    { name: "hip", recording: hip, windows: spans },
    { name: "ankle", recording: ankle, windows: spans },
    ...walks.map(({ carried, recording }) => ({ name: carried, recording, windows: [] })),
  ]);
  const trialRows = trials.map((trial, i) => {
    const analysis = analyseMotion(trial.recording);
    const score = scoreContacts(analysis.stepTimesS, trial.landingsS, { toleranceS: 0.06, maxOffsetS: 0.25 });
    const own = analysis.windows[0]!.stepRateSpm;
    const other = scipy?.get(`trial ${i}`)?.ratesSpm[0];
    return `| ${i + 1} | ${trial.stepRateSpm.toFixed(1)} | ${mark(own, trial.stepRateSpm)} | ${score.f1.toFixed(3)} | ${(1000 * score.offsetS).toFixed(0)} | ${mark(other, trial.stepRateSpm)} |`;
  });
  const agreement = (
    a: readonly (number | null | undefined)[],
    b: readonly (number | null | undefined)[],
  ): { both: number; near: number; octaves: number } => {
    let both = 0;
    let near = 0;
    let octaves = 0;
    a.forEach((x, i) => {
      const y = b[i];
      if (x === null || x === undefined || y === null || y === undefined) return;
      both += 1;
      if (Math.abs(x - y) <= 1.5) near += 1;
      if (x / y > 1.3 || y / x > 1.3) octaves += 1;
    });
    return { both, near, octaves };
  };
  const ours = agreement(
    hipAnalysis.windows.map((window) => window.stepRateSpm),
    ankleAnalysis.windows.map((window) => window.stepRateSpm),
  );
  const theirs = agreement(scipy?.get("hip")?.ratesSpm ?? [], scipy?.get("ankle")?.ratesSpm ?? []);
  const walkRows = walks.map(({ carried, recording, count }) => {
    const analysis = analyseMotion(recording);
    const running = analysis.track.points.filter((point) => point.state === "running").length;
    const rate = analysis.track.points.filter((point) => point.stepRateSpm !== null).length;
    const off = (value: number): string => `${value} (${(100 * (value / count - 1)).toFixed(1)} %)`;
    const peaks = scipy?.get(carried)?.peakCount;
    return `| ${carried} | ${count} | ${off(analysis.stepCount)} | ${percent(rate, analysis.track.points.length)} | ${running} | ${peaks === undefined ? "not run" : off(peaks)} |`;
  });
  return `## Steps from motion: open recordings

Recordings that nobody of this project made. "✗" marks an answer more than 2 spm off. The scipy column is the ordinary estimate described above; it is a second opinion, not truth.

Lower back on a treadmill beside a force plate, 5 s each, 2.5–4.17 m/s, slopes −10…+10°. The offset is found minus force landing.

| trial | force, spm | Spondee, spm | contacts F1 (± 60 ms) | offset, ms | scipy, spm |
| --- | --- | --- | --- | --- | --- |
${trialRows.join("\n")}

One outdoor run of 25 minutes with breaks, hip and ankle together, ten-second windows.

| | windows that both answer | within 1.5 spm | octave disagreements |
| --- | --- | --- | --- |
| Spondee | ${ours.both} | ${percent(ours.near, ours.both)} | ${ours.octaves} |
| scipy | ${theirs.both} | ${percent(theirs.near, theirs.both)} | ${theirs.octaves} |

Walking with a phone, about 340 counted steps each.

| carried | counted | Spondee | points answered | points called running | scipy peaks |
| --- | --- | --- | --- | --- | --- |
${walkRows.join("\n")}`;
}

function mark(rate: number | null | undefined, truth: number): string {
  if (rate === undefined) return "not run";
  if (rate === null) return "no answer";
  return `${rate.toFixed(1)}${Math.abs(rate - truth) > 2 ? " ✗" : ""}`;
}
