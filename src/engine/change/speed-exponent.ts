// A runner's own speed exponent from the ups and downs of speed inside their runs. Measured speed is noisy, and noise in
// the regressor pulls a slope towards zero; so the speed two minutes away, whose error is independent, serves as instrument.
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { t95 } from "./student-t.ts";

export interface Normal {
  readonly mean: number;
  readonly sd: number;
}

export interface MinuteSeries {
  readonly timeS: readonly number[];
  readonly lnSpeed: readonly number[];
  /** What is regressed on speed: ln step rate, slope-corrected. */
  readonly response: readonly number[];
}

export interface SlopeEvidence extends Normal {
  readonly runCount: number;
}

const MINUTE_S = SECONDS_PER_MINUTE;
/** Below this the instrument is too weak to help (rule of thumb of instrumental variables, from memory). */
const FIRST_STAGE_F = 10;
/** No run-to-run agreement is trusted beyond this. */
const SMALLEST_SD = 0.015;

/**
 * Instrumental-variable slope of response on ln speed within runs, with a run-clustered standard error; undefined when
 * the speed hardly varied or only as noise. Slopes that differ between runs widen the error.
 */
export function withinRunSlope(runs: readonly MinuteSeries[]): SlopeEvidence | undefined {
  const parts = runs.map(instrumented).filter((part) => part.count >= 4);
  if (parts.length === 0) return undefined;
  const total = (key: "zx" | "zy" | "zz" | "xx" | "count"): number => parts.reduce((sum, part) => sum + part[key], 0);
  const zx = total("zx");
  const count = total("count");
  if (!(zx > 0)) return undefined;
  const explained = zx ** 2 / total("zz");
  const firstStageF = (explained * (count - parts.length - 1)) / Math.max(total("xx") - explained, 1e-12);
  if (!(firstStageF > FIRST_STAGE_F)) return undefined;
  const slope = total("zy") / zx;
  // Clustered by run: a run is one piece of evidence. With a single run the minutes are split in blocks of five.
  const scores = parts.flatMap((part) => part.blocks).map((block) => block.zy - slope * block.zx);
  const byRun = parts.map((part) => part.zy - slope * part.zx);
  const clusters = byRun.length >= 3 ? byRun : scores;
  if (clusters.length < 3) return undefined;
  const spread =
    Math.sqrt((clusters.reduce((sum, s) => sum + s * s, 0) * clusters.length) / (clusters.length - 1)) / zx;
  // Few clusters: the error itself is uncertain, so it is stretched as a t quantile would.
  const sd = Math.max(SMALLEST_SD, (spread * t95(clusters.length - 1)) / t95(Infinity));
  return { mean: slope, sd, runCount: parts.length };
}

interface Instrumented {
  readonly zx: number;
  readonly zy: number;
  readonly zz: number;
  readonly xx: number;
  readonly count: number;
  readonly blocks: readonly { zx: number; zy: number }[];
}

function instrumented(run: MinuteSeries): Instrumented {
  const rows: { x: number; y: number; z: number }[] = [];
  for (let i = 0; i < run.timeS.length; i += 1) {
    const far = [i - 2, i + 2].filter(
      (j) =>
        j >= 0 &&
        j < run.timeS.length &&
        Math.abs(Math.abs(run.timeS[j]! - run.timeS[i]!) - 2 * MINUTE_S) < MINUTE_S / 2,
    );
    if (far.length === 0) continue;
    rows.push({
      x: run.lnSpeed[i]!,
      y: run.response[i]!,
      z: far.reduce((sum, j) => sum + run.lnSpeed[j]!, 0) / far.length,
    });
  }
  const mean = (key: "x" | "y" | "z"): number =>
    rows.reduce((sum, row) => sum + row[key], 0) / Math.max(rows.length, 1);
  const [x0, y0, z0] = [mean("x"), mean("y"), mean("z")];
  const blocks: { zx: number; zy: number }[] = [];
  let [zz, xx] = [0, 0];
  rows.forEach((row, index) => {
    const block = (blocks[Math.floor(index / 5)] ??= { zx: 0, zy: 0 });
    block.zx += (row.z - z0) * (row.x - x0);
    block.zy += (row.z - z0) * (row.y - y0);
    zz += (row.z - z0) ** 2;
    xx += (row.x - x0) ** 2;
  });
  return {
    zx: blocks.reduce((sum, block) => sum + block.zx, 0),
    zy: blocks.reduce((sum, block) => sum + block.zy, 0),
    zz,
    xx,
    count: rows.length,
    blocks,
  };
}

/** Precision-weighted mean of two independent normal pieces of knowledge. */
export function combineNormal(a: Normal, b: Normal): Normal {
  const precision = 1 / a.sd ** 2 + 1 / b.sd ** 2;
  return { mean: (a.mean / a.sd ** 2 + b.mean / b.sd ** 2) / precision, sd: Math.sqrt(1 / precision) };
}
