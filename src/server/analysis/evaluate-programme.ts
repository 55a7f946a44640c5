// The whole programme from everyone's runs: the engine's mixed model, told in steps per minute.
import { programmeEffect } from "../../engine/change/programme-effect.ts";
import type { NotEnough, Uncertain } from "../../engine/quantities/uncertain.ts";
import { asRun } from "./as-run.ts";
import type { RecordingInput } from "./runner-state.ts";

export interface ProgrammeInput {
  readonly id: string;
  /** The runner's own step rate before, both feet; turns percent into steps per minute. */
  readonly baselineSpm: number | null;
  readonly recordings: readonly RecordingInput[];
}

export interface ProgrammeOutcome {
  readonly groupChangeSpm: Uncertain | NotEnough;
  readonly betweenRunnersSdSpm: number | null;
  /** Drawn towards the group, by runner. */
  readonly shrunken: Readonly<Record<string, Uncertain>>;
  readonly leftOut: readonly string[];
}

/** While nothing was recorded after the programme, the latest runs of it stand in for "after". */
const LATEST_RUNS = 4;

export function evaluateProgramme(runners: readonly ProgrammeInput[]): ProgrammeOutcome {
  const effect = programmeEffect(
    runners.map(({ id, recordings }) => {
      const of = (phase: RecordingInput["phase"]) => recordings.filter((entry) => entry.phase === phase).map(asRun);
      const after = of("after");
      return { id, before: of("before"), after: after.length > 0 ? after : of("during").slice(-LATEST_RUNS) };
    }),
  );
  if ("kind" in effect)
    return {
      groupChangeSpm: effect,
      betweenRunnersSdSpm: null,
      shrunken: {},
      leftOut: runners.map((runner) => runner.id),
    };
  const own = new Map(runners.map((runner) => [runner.id, runner.baselineSpm]));
  const known = effect.forest.flatMap((row) => own.get(row.runnerId) ?? []);
  const meanSpm = known.reduce((sum, rate) => sum + rate, 0) / Math.max(1, known.length);
  const scaled = (percent: number, spm: number): number => (percent / 100) * spm;
  const { groupPercent } = effect;
  return {
    groupChangeSpm:
      known.length === 0
        ? { kind: "not-enough", need: "baselines", have: "none" }
        : {
            ...groupPercent,
            estimate: scaled(groupPercent.estimate, meanSpm),
            standardError: scaled(groupPercent.standardError, meanSpm),
            interval95: {
              low: scaled(groupPercent.interval95.low, meanSpm),
              high: scaled(groupPercent.interval95.high, meanSpm),
            },
          },
    betweenRunnersSdSpm: scaled(effect.betweenRunnerSdPercent, meanSpm),
    shrunken: Object.fromEntries(
      effect.forest.flatMap((row): [string, Uncertain][] => {
        const spm = own.get(row.runnerId) ?? null;
        if (spm === null) return [];
        const { estimate, interval95 } = row.shrunkPercent;
        const [low, high] = [scaled(interval95.low, spm), scaled(interval95.high, spm)];
        return [
          [
            row.runnerId,
            {
              estimate: scaled(estimate, spm),
              standardError: (high - low) / (2 * 1.96),
              interval95: { low, high },
              sampleCount: row.runCount.before + row.runCount.after,
              method: `this runner's own runs ${Math.round(100 * row.ownShare)} %, the group the rest`,
            },
          ],
        ];
      }),
    ),
    leftOut: [...effect.leftOut],
  };
}
