// Motion recordings that nobody of this project made: step rates, contacts, counts and states against what came with them.
import { readFileSync } from "node:fs";
import path from "node:path";
import { type MotionRecording } from "../../src/engine/recordings/recording.ts";
import { readMotionCsv } from "../../src/engine/recordings/motion-csv.ts";
import { analyseMotion } from "../../src/engine/steps/analyse-motion.ts";
import { createLiveSteps } from "../../src/engine/steps/live-steps.ts";
import { type StepAnalysis } from "../../src/engine/steps/step-analysis.ts";
import { scoreContacts } from "../../tests/score-contacts.ts";
import { type OpenDataRow } from "./row.ts";

const FORCE_RATE_HZ = 500;
const CARRIED = ["armband", "backpocket", "bag", "frontpocket", "hand", "neckpouch"];

export async function checkMotionData(folder: string): Promise<readonly OpenDataRow[]> {
  return [...backForceRows(folder), ...rawBackRows(folder), ...hipAnkleRows(folder), ...walkingRows(folder)];
}

export interface BackForceTrial {
  readonly recording: MotionRecording;
  /** Landings: the force rises above 5 % of body weight and stays there for 80 ms. */
  readonly landingsS: readonly number[];
  readonly stepRateSpm: number;
}

export function readBackForce(folder: string): readonly BackForceTrial[] {
  const table = (name: string): number[][] =>
    readFileSync(path.join(folder, "back-force", name), "utf8")
      .trim()
      .split("\n")
      .map((line) => line.split(",").map(Number));
  const forces = table("vertical_force_bw.csv");
  return table("acceleration_g.csv").map((row, trial) => {
    const force = forces[trial]!;
    const n = force.length;
    const landingsS: number[] = [];
    for (let i = 1; i < n; i += 1)
      if (force[i]! > 0.05 && force[i - 1]! <= 0.05 && force.slice(i, i + 40).every((value) => value > 0.05))
        landingsS.push(i / FORCE_RATE_HZ);
    const lines = Array.from({ length: n }, (_, i) => `${i / FORCE_RATE_HZ},${row[i]!},${row[n + i]!},0`);
    // The numbers are filtered and have no gravity in them.
    const recording = readTable(`time_s,linear_x_g,linear_y_g,linear_z_g\n${lines.join("\n")}`, `trial ${trial + 1}`);
    const stepRateSpm = (60 * (landingsS.length - 1)) / (landingsS.at(-1)! - landingsS[0]!);
    return { recording, landingsS, stepRateSpm };
  });
}

function readTable(text: string, fileName: string): MotionRecording {
  const result = readMotionCsv(text, { fileName });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

function backForceRows(folder: string): OpenDataRow[] {
  return readBackForce(folder).map((trial, i) => {
    const analysis = analyseMotion(trial.recording);
    const rate = analysis.windows[0]!.stepRateSpm;
    const score = scoreContacts(analysis.stepTimesS, trial.landingsS, { toleranceS: 0.06, maxOffsetS: 0.25 });
    const live = readLive(trial.recording);
    return {
      dataSet: "back-force",
      item: `trial ${i + 1}`,
      measured: `${shown(rate)} spm, contacts F1 ${score.f1.toFixed(3)} (offset ${(1000 * score.offsetS).toFixed(0)} ms), live ${shown(live)}`,
      expected: `${trial.stepRateSpm.toFixed(1)} ± 2 spm, F1 at least 0.95`,
      pass: rate !== null && Math.abs(rate - trial.stepRateSpm) <= 2 && score.f1 >= 0.95,
    };
  });
}

/** The last live answer. */
function readLive(recording: MotionRecording): number | null {
  const live = createLiveSteps();
  for (let i = 0; i < recording.timeS.length; i += 1)
    live.push(recording.timeS[i]!, recording.accelXMps2[i]!, recording.accelYMps2[i]!, recording.accelZMps2[i]!);
  return live.read().stepRateSpm;
}

function shown(rate: number | null): string {
  return rate === null ? "no answer" : rate.toFixed(1);
}

function rawBackRows(folder: string): OpenDataRow[] {
  const recording = readTable(readFileSync(path.join(folder, "back-force", "raw_512hz.csv"), "utf8"), "raw_512hz.csv");
  const rate = analyseMotion(recording).windows[0]!.stepRateSpm;
  return [
    {
      dataSet: "back-force",
      item: "raw, 512 Hz",
      measured: `${shown(rate)} spm, gravity ${recording.gravity}`,
      expected: "160.8 ± 2 spm (an outside estimate, no force)",
      pass: rate !== null && Math.abs(rate - 160.8) <= 2 && recording.gravity === "included",
    },
  ];
}

export function readHipAnkle(folder: string): { readonly hip: MotionRecording; readonly ankle: MotionRecording } {
  const read = (name: string): MotionRecording =>
    readTable(readFileSync(path.join(folder, "hip-ankle", `${name}.csv`), "utf8"), `${name}.csv`);
  return { hip: read("hip"), ankle: read("ankle") };
}

/** Running by strength alone, whatever the steps: the hip's acceleration norm varies by more than 8 m/s². */
function strongWindows(recording: MotionRecording, analysis: StepAnalysis): readonly boolean[] {
  return analysis.windows.map(({ startS, endS }) => {
    let sum = 0;
    let squares = 0;
    let count = 0;
    for (let i = 0; i < recording.timeS.length; i += 1) {
      if (recording.timeS[i]! < startS || recording.timeS[i]! >= endS) continue;
      const norm = Math.hypot(recording.accelXMps2[i]!, recording.accelYMps2[i]!, recording.accelZMps2[i]!);
      sum += norm;
      squares += norm * norm;
      count += 1;
    }
    return Math.sqrt(squares / count - (sum / count) ** 2) > 8;
  });
}

function hipAnkleRows(folder: string): OpenDataRow[] {
  const { hip, ankle } = readHipAnkle(folder);
  const h = analyseMotion(hip);
  const a = analyseMotion(ankle);
  const pairs = h.windows.map((window, i) => [window, a.windows[i]!] as const);
  const both = pairs.filter(([x, y]) => x.stepRateSpm !== null && y.stepRateSpm !== null);
  const agree = both.filter(([x, y]) => Math.abs(x.stepRateSpm! - y.stepRateSpm!) <= 1.5);
  const octaves = both.filter(
    ([x, y]) => x.stepRateSpm! / y.stepRateSpm! > 1.4 || y.stepRateSpm! / x.stepRateSpm! > 1.4,
  );
  const strong = strongWindows(hip, h);
  const count = strong.filter(Boolean).length;
  const answered = (analysis: StepAnalysis): number =>
    analysis.windows.filter(
      (window, i) => strong[i] === true && window.state === "running" && window.stepRateSpm !== null,
    ).length;
  const states = (analysis: StepAnalysis, state: string): number =>
    analysis.windows.filter((window) => window.state === state).length;
  const row = (item: string, measured: string, expected: string, pass: boolean): OpenDataRow => ({
    dataSet: "hip-ankle",
    item,
    measured,
    expected,
    pass,
  });
  return [
    row(
      "agreement",
      `${agree.length} of ${both.length} windows`,
      "within 1.5 spm in 95 %",
      agree.length >= 0.95 * both.length,
    ),
    row("octaves", `${octaves.length} windows`, "none", octaves.length === 0),
    ...(
      [
        ["hip", h],
        ["ankle", a],
      ] as const
    ).map(([name, analysis]) =>
      row(
        `${name}, running`,
        `${answered(analysis)} of ${count} windows answered`,
        "at least 90 %",
        answered(analysis) >= 0.9 * count,
      ),
    ),
    ...(
      [
        ["hip", h],
        ["ankle", a],
      ] as const
    ).map(([name, analysis]) =>
      row(
        `${name}, breaks`,
        `${states(analysis, "standing")} standing, ${states(analysis, "walking")} walking windows`,
        "both found",
        states(analysis, "standing") > 0 && states(analysis, "walking") > 0,
      ),
    ),
    row(
      "steps",
      `hip ${h.stepCount}, ankle ${a.stepCount}`,
      "within 2 %",
      Math.abs(h.stepCount / a.stepCount - 1) <= 0.02,
    ),
  ];
}

export function readWalking(
  folder: string,
  carried: string,
): { readonly recording: MotionRecording; readonly count: number } {
  const text = readFileSync(path.join(folder, "walking-phone", `${carried}.csv`), "utf8").trim();
  const recording = readTable(`time_ns,x_mps2,y_mps2,z_mps2,a,b,c\n${text}`, `${carried}.csv`);
  // The last column is zero throughout; the one before it is the counted steps (about 340 a file).
  const count = Number(text.slice(text.lastIndexOf("\n") + 1).split(",")[5]);
  return { recording, count };
}

function walkingRows(folder: string): OpenDataRow[] {
  return CARRIED.map((carried) => {
    const { recording, count } = readWalking(folder, carried);
    const analysis = analyseMotion(recording);
    const running = analysis.track.points.filter((point) => point.state === "running").length;
    const answered = analysis.track.points.filter((point) => point.stepRateSpm !== null).length;
    return {
      dataSet: "walking-phone",
      item: carried,
      measured: `${analysis.stepCount} steps, ${running} points of running, ${answered} of ${analysis.track.points.length} answered`,
      expected: `${count} steps within 3 %, never running`,
      pass: running === 0 && Math.abs(analysis.stepCount / count - 1) <= 0.03,
    };
  });
}
