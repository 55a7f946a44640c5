// The programme as a whole: how much did the group change at matched speed, how sure, and each runner's own, drawn in.
import { RESPONSE_SPREAD } from "../evidence/change.ts";
import type { Interval, NotEnough, Uncertain } from "../quantities/uncertain.ts";
import { fitMixedModel, type MixedModelFit } from "./mixed-model.ts";
import type { Run } from "./run.ts";
import { runMean } from "./run-means.ts";
import { satterthwaiteDf } from "./satterthwaite.ts";
import { shrinkTowardsGroup } from "./shrink.ts";
import { t95 } from "./student-t.ts";

export interface ProgrammeRunner {
  readonly id: string;
  readonly before: readonly Run[];
  readonly after: readonly Run[];
}

export interface ForestRow {
  readonly runnerId: string;
  /** From this runner's runs alone, percent; not enough with fewer than one run a side or no spread to learn from. */
  readonly ownPercent: { readonly estimate: number; readonly interval95: Interval } | NotEnough;
  /** Drawn towards the group, percent. */
  readonly shrunkPercent: { readonly estimate: number; readonly interval95: Interval };
  /** How much of the runner's own estimate was kept, 0–1; the rest is the group's. */
  readonly ownShare: number;
  readonly runCount: { readonly before: number; readonly after: number };
}

export interface ProgrammeEffect {
  /** Mean change of the group at matched speed, percent. */
  readonly groupPercent: Uncertain;
  /** How much runners truly differ in their change (SD), percent. */
  readonly betweenRunnerSdPercent: number;
  /** Day-to-day spread of a run, percent. */
  readonly dayToDaySdPercent: number;
  readonly exponent: { readonly estimate: number; readonly standardError: number };
  /** Sorted by shrunk estimate, largest first. */
  readonly forest: readonly ForestRow[];
  readonly leftOut: readonly string[];
}

interface RunRow {
  readonly runner: number;
  readonly phase: 0 | 1;
  readonly lnRate: number;
  readonly lnSpeed: number;
}

const LEAST_RUNNERS = 3;

/**
 * Mixed model over run means: ln step rate on phase and ln speed, with a random level and a random change per runner; REML,
 * Satterthwaite interval for the mean change. Runners without steady runs are left out and named. Needs three runners with
 * runs on both sides and more runs than that. Surfaces are not to be mixed within a runner: treadmill and outdoor runs of a
 * runner are separated by leaving out the rarer kind.
 */
export function programmeEffect(runners: readonly ProgrammeRunner[]): ProgrammeEffect | NotEnough {
  const rows: RunRow[] = [];
  const used: ProgrammeRunner[] = [];
  const leftOut: string[] = [];
  for (const runner of runners) {
    const mine = runRows(runner, used.length);
    if (mine.length === 0) leftOut.push(runner.id);
    else {
      rows.push(...mine);
      used.push(runner);
    }
  }
  const complete = used.filter((_, index) =>
    [0, 1].every((phase) => rows.some((r) => r.runner === index && r.phase === phase)),
  );
  if (complete.length < LEAST_RUNNERS || rows.length < used.length + complete.length + 2)
    return {
      kind: "not-enough",
      need: `${LEAST_RUNNERS} runners with steady runs before and after, and some of them with more than one`,
      have: `${complete.length} runners, ${rows.length} runs`,
    };
  const centre = rows.reduce((sum, row) => sum + row.lnSpeed, 0) / rows.length;
  const ones = rows.map(() => 1);
  const phase = rows.map((row) => row.phase);
  const data = {
    y: rows.map((row) => row.lnRate),
    fixed: [ones, phase, rows.map((row) => row.lnSpeed - centre)],
    random: [ones, phase],
    group: rows.map((row) => row.runner),
  };
  const fit = fitMixedModel(data);
  const df = satterthwaiteDf(data, fit)[1]!;
  const half = t95(df) * fit.fixedStandardErrors[1]!;
  const delta = fit.fixed[1]!;
  return {
    groupPercent: {
      estimate: percent(delta),
      standardError: 100 * Math.exp(delta) * fit.fixedStandardErrors[1]!,
      interval95: { low: percent(delta - half), high: percent(delta + half) },
      sampleCount: complete.length,
      method: "mixed model over runs and runners, REML, Satterthwaite interval",
    },
    betweenRunnerSdPercent: 100 * Math.sqrt(fit.randomCovariance[3]!),
    dayToDaySdPercent: 100 * fit.residualSd,
    exponent: { estimate: fit.fixed[2]!, standardError: fit.fixedStandardErrors[2]! },
    forest: forestOf(used, rows, fit, centre),
    leftOut,
  };
}

const percent = (delta: number): number => 100 * Math.expm1(delta);

/** Means of the steady minutes of each run; of treadmill and outdoor only the kind with more runs. */
function runRows(runner: ProgrammeRunner, index: number): RunRow[] {
  const all = [...runner.before, ...runner.after];
  const treadmills = all.filter((run) => run.surface === "treadmill").length;
  const keep = (run: Run): boolean => (run.surface === "treadmill") === treadmills > all.length / 2;
  const side = (runs: readonly Run[], phase: 0 | 1): RunRow[] =>
    runs.filter(keep).flatMap((run) => {
      const mean = runMean(run);
      return mean === undefined ? [] : [{ runner: index, phase, lnRate: mean.lnStepRate, lnSpeed: mean.lnSpeed }];
    });
  return [...side(runner.before, 0), ...side(runner.after, 1)];
}

/** Own and shrunk change of every runner, largest first. */
function forestOf(
  used: readonly ProgrammeRunner[],
  rows: readonly RunRow[],
  fit: MixedModelFit,
  centre: number,
): ForestRow[] {
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
  const sides = used.map((_, index) =>
    [0, 1].map((phase) =>
      rows
        .filter((row) => row.runner === index && row.phase === phase)
        .map((row) => row.lnRate - fit.fixed[2]! * (row.lnSpeed - centre)),
    ),
  ) as [number[], number[]][];
  const own = sides.map(([before, after]) =>
    before.length === 0 || after.length === 0
      ? { estimate: 0, standardError: Infinity }
      : {
          estimate: mean(after) - mean(before),
          standardError: fit.residualSd * Math.sqrt(1 / before.length + 1 / after.length),
        },
  );
  const shrunk = shrinkTowardsGroup(own, RESPONSE_SPREAD.value);
  const told = (estimate: number, interval: Interval): { estimate: number; interval95: Interval } => ({
    estimate: percent(estimate),
    interval95: { low: percent(interval.low), high: percent(interval.high) },
  });
  const factor = t95(Math.max(1, rows.length - used.length - 2));
  return used
    .map((runner, index): ForestRow => {
      const { estimate, standardError } = own[index]!;
      const [before, after] = sides[index]!;
      const half = factor * standardError;
      return {
        runnerId: runner.id,
        ownPercent: Number.isFinite(standardError)
          ? told(estimate, { low: estimate - half, high: estimate + half })
          : {
              kind: "not-enough",
              need: "a run before and a run after",
              have: `${before.length} before, ${after.length} after`,
            },
        shrunkPercent: told(shrunk[index]!.estimate, shrunk[index]!.interval95),
        ownShare: shrunk[index]!.ownShare,
        runCount: { before: before.length, after: after.length },
      };
    })
    .toSorted((a, b) => b.shrunkPercent.estimate - a.shrunkPercent.estimate);
}
