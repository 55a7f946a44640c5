// Real single footfalls placed at real step times, with noise; and a slow walk on gravel.
import { existsSync, readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { createRandom } from "../../src/engine/quantities/random.ts";
import { hzToSpm } from "../../src/engine/quantities/units.ts";
import { type SoundRecording } from "../../src/engine/recordings/recording.ts";
import { readWav } from "../../src/engine/recordings/wav.ts";
import { analyseSound } from "../../src/engine/steps/analyse-sound.ts";
import { scoreContacts } from "../../tests/score-contacts.ts";
import { type OpenDataRow } from "./row.ts";

const SURFACES = ["gravel", "tile", "wood", "grass"];
const NOISE_DB = [20, 10, 3];
const SEED = 20261125;

/** Rows for the folder that holds `footfalls/` and `step-times/`; none when they are not there. */
export async function checkFootfallData(folder: string): Promise<readonly OpenDataRow[]> {
  const root = path.join(folder, "footfalls");
  const timesFile = path.join(folder, "step-times", "step_times.csv");
  if (!existsSync(root) || !existsSync(timesFile)) return [];
  const times = readFileSync(timesFile, "utf8").trim().split("\n").slice(1).map(Number);
  const rows: OpenDataRow[] = [];
  for (const surface of SURFACES) {
    const footfalls = readdirSync(path.join(root, surface))
      .filter((name) => name.endsWith(".wav"))
      .sort()
      .map((name) => readSound(path.join(root, surface, name)));
    for (const noiseDb of NOISE_DB)
      rows.push(...checkPlaced(`${surface}, noise at ${noiseDb} dB`, footfalls, times, noiseDb));
  }
  rows.push(...checkWalk(readSound(path.join(root, "gravel-walk", "walking_outside_on_gravel.wav"))));
  return await Promise.resolve(rows);
}

function readSound(file: string): SoundRecording {
  const result = readWav(readFileSync(file), { fileName: path.basename(file) });
  if (!result.ok) throw new Error(`${file}: ${result.problems[0]?.code ?? "unreadable"}`);
  return result.value;
}

function checkPlaced(
  item: string,
  footfalls: readonly SoundRecording[],
  absoluteTimesS: readonly number[],
  noiseDb: number,
): readonly OpenDataRow[] {
  const startS = absoluteTimesS[0]! - 0.5;
  const timesS = absoluteTimesS.map((timeS) => timeS - startS);
  const recording = place(footfalls, timesS, noiseDb);
  const analysis = analyseSound(recording);
  let worst = 0;
  let octaves = 0;
  let answered = 0;
  let sumOfDifferences = 0;
  for (const window of analysis.windows) {
    if (window.stepRateSpm === null) continue;
    const inside = timesS.filter((timeS) => timeS >= window.startS && timeS < window.endS);
    const truthSpm = hzToSpm((inside.length - 1) / (inside.at(-1)! - inside[0]!));
    const difference = window.stepRateSpm - truthSpm;
    answered += 1;
    sumOfDifferences += difference;
    worst = Math.max(worst, Math.abs(difference));
    if (Math.abs(Math.log2(window.stepRateSpm / truthSpm)) > 0.4) octaves += 1;
  }
  const score = scoreContacts(analysis.stepTimesS, timesS, { toleranceS: 0.06, maxOffsetS: 0 });
  const meanDifference = answered > 0 ? sumOfDifferences / answered : Number.POSITIVE_INFINITY;
  const confounds = analysis.warnings.map((warning) => warning.code).filter((code) => code.endsWith("-heard"));
  return [
    {
      dataSet: "footfalls",
      item: `${item}: step rate`,
      measured: `${meanDifference.toFixed(2)} spm, worst window ${worst.toFixed(2)}, ${answered}/${analysis.windows.length} answered, ${octaves} octave${confounds.map((code) => `, ${code}`).join("")}`,
      expected: "mean within 1 spm, no octave error, no metronome or music",
      pass: Math.abs(meanDifference) <= 1 && octaves === 0 && answered > 0 && confounds.length === 0,
    },
    {
      dataSet: "footfalls",
      item: `${item}: contacts`,
      measured: `F1 ${score.f1.toFixed(3)} at ±60 ms, offset ${(1000 * score.offsetS).toFixed(0)} ms, ${analysis.stepCount} of ${timesS.length} steps`,
      expected: noiseDb >= 10 ? "F1 at least 0.95" : "no bar at this noise",
      pass: noiseDb < 10 || score.f1 >= 0.95,
    },
  ];
}

/** Footfalls in random order; white noise of mean power `noiseDb` below that of the footfalls. */
function place(footfalls: readonly SoundRecording[], timesS: readonly number[], noiseDb: number): SoundRecording {
  const random = createRandom(SEED);
  const { sampleRateHz } = footfalls[0]!;
  const samples = new Float32Array(Math.round((timesS.at(-1)! + 1) * sampleRateHz));
  for (const timeS of timesS) {
    const sound = footfalls[random.below(footfalls.length)]!.samples;
    const start = Math.round(timeS * sampleRateHz);
    for (let index = 0; index < sound.length && start + index < samples.length; index += 1)
      samples[start + index]! += sound[index]!;
  }
  let power = 0;
  for (const value of samples) power += value * value;
  const noise = Math.sqrt(power / samples.length) * 10 ** (-noiseDb / 20);
  for (let index = 0; index < samples.length; index += 1) samples[index]! += noise * random.normal();
  return { kind: "sound", sampleRateHz, samples, cueBlocks: [] };
}

function checkWalk(recording: SoundRecording): readonly OpenDataRow[] {
  const { windows } = analyseSound(recording);
  const running = windows.filter((window) => window.state === "running").length;
  const rates = windows.flatMap((window) => (window.stepRateSpm === null ? [] : [window.stepRateSpm.toFixed(0)]));
  return [
    {
      dataSet: "footfalls",
      item: "slow walk on gravel",
      measured: `${running} of ${windows.length} windows called running; rates ${rates.join(", ") || "none"}`,
      expected: "never called running",
      pass: running === 0,
    },
  ];
}
