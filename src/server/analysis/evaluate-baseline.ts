// The baseline from the counts and the recordings that belong to it.
import type { BaselineAnswer } from "../../api/index.ts";
import { type BaselineMeasure, makeBaseline } from "../../engine/baseline/make-baseline.ts";
import { steadyRate } from "../../engine/baseline/steady-rate.ts";
import type { Warning } from "../../engine/quantities/problem.ts";
import { rateOf, speedOfCount } from "../use-cases/count-rate.ts";
import type { EvaluationInput, RecordingInput } from "./runner-state.ts";
import { keptWindows } from "./windows.ts";

/** Runs further than this from the usual speed say something about another speed: they stay out (rule M1 asks for one). */
const SAME_SPEED_SHARE = 0.05;

interface Measured {
  readonly id: string;
  readonly measure: BaselineMeasure;
  readonly speedMps: number | null;
}

/** Counts marked as baseline without the beat, and recordings from before the change at the same speed. */
export function evaluateBaseline(input: Pick<EvaluationInput, "counts" | "recordings">): BaselineAnswer {
  const warnings: Warning[] = [];
  const counted = input.counts.flatMap((row): Measured[] => {
    if (row.purpose !== "baseline" || row.cue === "on") return [];
    const rate = rateOf(row);
    if (!rate.ok) return [];
    const speedMps = speedOfCount(row);
    const known = speedMps === null ? {} : { speedMps };
    const { surface, seconds: durationS } = row;
    return [{ id: row.id, speedMps, measure: { kind: "counted", measured: rate.value, durationS, surface, ...known } }];
  });
  const recorded = input.recordings.filter((entry) => entry.phase === "before").flatMap(steadyOf);
  const usual = usualSpeed(counted) ?? usualSpeed(recorded);
  const atSpeed = recorded.filter(
    ({ speedMps }) =>
      usual === undefined || speedMps === null || Math.abs(speedMps - usual) <= SAME_SPEED_SHARE * usual,
  );
  if (atSpeed.length < recorded.length)
    warnings.push({
      code: "other-speed",
      message: `${recorded.length - atSpeed.length} of ${recorded.length} runs were at another speed and are left out of the baseline.`,
    });
  const used = [...counted, ...atSpeed];
  const baseline = makeBaseline(used.map((entry) => entry.measure));
  if ("kind" in baseline) return baseline;
  return {
    kind: "baseline",
    stepRateSpm: baseline.stepRateSpm,
    speedMps: baseline.speedMps ?? null,
    surface: baseline.surface,
    from: { countIds: counted.map((entry) => entry.id), recordingIds: atSpeed.map((entry) => entry.id) },
    warnings,
  };
}

function steadyOf(recording: RecordingInput): Measured[] {
  const measured = steadyRate(keptWindows(recording));
  if (measured.kind === "not-enough") return [];
  const measure = { kind: "recorded", measured, surface: recording.surface } as const;
  return [{ id: recording.id, speedMps: measured.speedMps, measure }];
}

function usualSpeed(measures: readonly Measured[]): number | undefined {
  const speeds = measures.flatMap((entry) => (entry.speedMps === null ? [] : [entry.speedMps])).sort((a, b) => a - b);
  return speeds[Math.floor((speeds.length - 1) / 2)];
}
