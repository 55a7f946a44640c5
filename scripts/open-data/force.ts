// Force recordings of other laboratories: contact and flight times, centre-of-mass drop and peak force of a treadmill run,
// and how far the sine model's peak force is from force plates in 37 runners.
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import Papa from "papaparse";
import { SINE_MODEL_BIAS } from "../../src/engine/evidence/load.ts";
import { springMass } from "../../src/engine/load/spring-mass.ts";
import { fitBouncingRunner } from "../../src/engine/load/what-if-cadence.ts";
import { simulateStep } from "../../src/engine/load/bouncing-runner.ts";
import { hzToSpm, STANDARD_GRAVITY_MPS2 as g } from "../../src/engine/quantities/units.ts";
import { designButterworth } from "../../src/engine/signal/butterworth.ts";
import { sosFiltFilt } from "../../src/engine/signal/sos-filter.ts";
import type { OpenDataRow } from "./row.ts";

type Table = readonly Readonly<Record<string, number>>[];

/** Rows for the data sets `treadmill-force` and `back-table` of the folder; a missing one is said as a failed row. */
export async function checkForceData(folder: string): Promise<readonly OpenDataRow[]> {
  const treadmill = await readTable(join(folder, "treadmill-force", "vertical_force.csv"));
  const back = await readTable(join(folder, "back-table", "table.csv"));
  return [
    ...(treadmill === undefined ? [missing("treadmill-force")] : treadmillRows(treadmill)),
    ...(back === undefined ? [missing("back-table")] : backRows(back)),
  ];
}

async function readTable(path: string): Promise<Table | undefined> {
  if (!existsSync(path)) return undefined;
  const text = await readFile(path, "utf8");
  return Papa.parse<Record<string, number>>(text, { header: true, dynamicTyping: true, skipEmptyLines: true }).data;
}

const missing = (dataSet: string): OpenDataRow => ({
  dataSet,
  item: "-",
  measured: "not there",
  expected: "the recording",
  pass: false,
});

function row(
  dataSet: string,
  item: string,
  value: number,
  expected: number,
  tolerance: number,
  unit: string,
): OpenDataRow {
  const digits = Math.max(0, Math.min(4, Math.ceil(-Math.log10(tolerance)) + 1));
  return {
    dataSet,
    item,
    measured: `${value.toFixed(digits)} ${unit}`.trim(),
    expected: `${expected} ± ${tolerance} ${unit}`.trim(),
    pass: Math.abs(value - expected) <= tolerance,
  };
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

const FORCE_THRESHOLD_N = 25;

interface Step {
  readonly start: number;
  readonly off: number;
  readonly next: number;
}

function treadmillRows(table: Table): OpenDataRow[] {
  const rateHz = (table.length - 1) / (table.at(-1)!["t_s"]! - table[0]!["t_s"]!);
  const filter = designButterworth(4, { kind: "low-pass", cutoffHz: 50 }, rateHz);
  const smooth = sosFiltFilt(
    filter,
    Float64Array.from(table, (r) => r["force_n"]!),
  );
  // The plates' zero has drifted: what they read in flight is taken off before contacts are looked for.
  const drift = mean(findSteps(smooth).map((s) => mean(Array.from(smooth.subarray(s.off + 12, s.next - 12)))));
  const force = smooth.map((x) => x - drift);
  const steps = findSteps(force);
  const contactTimeS = mean(steps.map((s) => (s.off - s.start) / rateHz));
  const flightTimeS = mean(steps.map((s) => (s.next - s.off) / rateHz));
  // Over whole steps the mean force is body weight.
  const whole = force.subarray(steps[0]!.start, steps.at(-1)!.next);
  const massKg = mean(Array.from(whole)) / g;
  const peakForceN = mean(steps.map((s) => Math.max(...force.subarray(s.start, s.off))));
  const dropM = mean(steps.map((s) => dropInContact(force.subarray(s.start, s.next), massKg, rateHz)));
  const set = "treadmill-force";
  const input = { massKg, legLengthM: 0.93, speedMps: 3, contactTimeS, flightTimeS };
  const sine = springMass(input);
  const bouncing = fitBouncingRunner(input);
  const simulated = bouncing && simulateStep(bouncing);
  return [
    row(set, "steps", steps.length, 29, 0, ""),
    row(set, "step rate", hzToSpm(1 / (contactTimeS + flightTimeS)), 175.9, 0.5, "spm"),
    row(set, "contact time", contactTimeS, 0.249, 0.002, "s"),
    row(set, "flight time", flightTimeS, 0.092, 0.002, "s"),
    row(set, "mass from impulse", massKg, 82.6, 0.5, "kg"),
    row(set, "peak force", peakForceN, 1922, 25, "N"),
    row(set, "peak force by the sine model", sine.peakForceN, 1745, 25, "N"),
    row(set, "drop by double integration", dropM, 0.0567, 0.001, "m"),
    row(set, "drop by the sine model, minus g tc²/8", sine.comDropM, 0.0566, 0.001, "m"),
    row(set, "drop by the integrated spring runner", simulated?.comDropM ?? NaN, 0.0567, 0.003, "m"),
  ];
}

/** Complete steps: from one touch-down to the next, above the threshold in between. */
function findSteps(force: Float64Array): Step[] {
  const ups: number[] = [];
  const downs: number[] = [];
  for (let i = 1; i < force.length; i += 1) {
    if (force[i - 1]! < FORCE_THRESHOLD_N && force[i]! >= FORCE_THRESHOLD_N) ups.push(i);
    if (force[i - 1]! >= FORCE_THRESHOLD_N && force[i]! < FORCE_THRESHOLD_N) downs.push(i);
  }
  return ups.slice(0, -1).map((start, k) => ({ start, off: downs.find((down) => down > start)!, next: ups[k + 1]! }));
}

/** Height lost from touch-down to the lowest point; over a whole step the runner ends as high as they began. */
function dropInContact(force: Float64Array, massKg: number, rateHz: number): number {
  const velocity = new Float64Array(force.length);
  for (let i = 1; i < force.length; i += 1)
    velocity[i] = velocity[i - 1]! + (force[i - 1]! + force[i]!) / 2 / massKg / rateHz - g / rateHz;
  const offset = mean(Array.from(velocity));
  let height = 0;
  let lowest = 0;
  for (let i = 1; i < force.length; i += 1) {
    height += ((velocity[i - 1]! + velocity[i]!) / 2 - offset) / rateHz;
    lowest = Math.min(lowest, height);
  }
  return -lowest;
}

function backRows(table: Table): OpenDataRow[] {
  const errors = table.map((r) => {
    const contactTimeS = r["GRFtc"]!;
    const flightTimeS = 1 / r["IMUsf"]! - contactTimeS;
    const model = springMass({
      massKg: r["Mass"]!,
      legLengthM: 0.93,
      speedMps: Math.min(r["Speed"]!, 5),
      contactTimeS,
      flightTimeS,
    });
    return 100 * (model.peakForceBodyWeights / r["GRFPeak"]! - 1);
  });
  const centre = mean(errors);
  const sd = Math.sqrt(errors.reduce((sum, e) => sum + (e - centre) ** 2, 0) / (errors.length - 1));
  const { meanPercent, sdPercent } = SINE_MODEL_BIAS.value;
  return [
    row("back-table", "rows", errors.length, 87, 0, ""),
    row("back-table", "bias of the sine model's peak force", centre, meanPercent, 0.1, "%"),
    row("back-table", "its spread", sd, sdPercent, 0.1, "%"),
  ];
}
