// Runs as they come in, to runs that can be compared: problems told, oddities warned about.
import { fail, succeed, type Problem, type Result, type Warning } from "../quantities/problem.ts";
import type { Run } from "./run.ts";
import { steadyMinutes, type SteadyMinute, type SteadyMinutesOptions } from "./steady-minutes.ts";

export interface PreparedRun {
  readonly id: string;
  readonly startedAtMs?: number;
  readonly minutes: readonly SteadyMinute[];
}

export interface PreparedSides {
  readonly before: readonly PreparedRun[];
  readonly after: readonly PreparedRun[];
}

/** Fewer steady minutes than this are used, with a warning (RULES M1 asks for three for a baseline). */
const SHORT_RUN_MINUTES = 3;

/** Steady minutes of both sides. Runs without any are left out with a warning; a side without any is a problem. */
export function prepareSides(
  before: readonly Run[],
  after: readonly Run[],
  options: SteadyMinutesOptions = {},
): Result<PreparedSides> {
  const problems: Problem[] = [...surfaceProblems([...before, ...after])];
  const warnings: Warning[] = [];
  const prepare = (runs: readonly Run[], field: "before" | "after"): PreparedRun[] => {
    if (runs.length === 0)
      problems.push({
        code: "no-runs",
        where: { field },
        got: "no run",
        expected: "at least one run",
        remedy: "Add a recording.",
      });
    const speedless: string[] = [];
    const prepared = runs.flatMap((run) => {
      const { minutes, steepUsed, speedMissing } = steadyMinutes(run.windows, options);
      if (speedMissing) speedless.push(run.id);
      if (minutes.length === 0) {
        warnings.push({
          code: "run-left-out",
          message: `${run.id}: no steady minute with step rate and speed after the first three minutes.`,
        });
        return [];
      }
      if (minutes.length < SHORT_RUN_MINUTES)
        warnings.push({
          code: "short-run",
          message: `${run.id}: only ${minutes.length} steady ${minutes.length === 1 ? "minute" : "minutes"} after the first three.`,
        });
      if (steepUsed)
        warnings.push({
          code: "steep-run",
          message: `${run.id}: too little level running; slopes were corrected and the interval is wider.`,
        });
      return [{ id: run.id, ...(run.startedAtMs === undefined ? {} : { startedAtMs: run.startedAtMs }), minutes }];
    });
    if (runs.length > 0 && prepared.length === 0) {
      const noSpeed = speedless.length === runs.length;
      problems.push({
        code: noSpeed ? "no-speed" : "no-steady-minutes",
        where: { field },
        got: noSpeed ? "recordings without speed" : "no steady minute after the first three minutes of running",
        expected: noSpeed
          ? "positions, a belt speed or a measured lap"
          : "at least one steady minute with step rate and speed",
        remedy: noSpeed
          ? "Record positions, or enter the speed."
          : "Use a recording with more than four minutes of steady running.",
      });
    }
    return prepared;
  };
  const value = { before: prepare(before, "before"), after: prepare(after, "after") };
  if (problems.length > 0) return fail(...problems);
  warnings.push(...cueWarnings(value));
  if (
    [...before, ...after].some((run) => run.surface === "unknown") &&
    [...before, ...after].some((run) => run.surface !== "unknown")
  )
    warnings.push({
      code: "surface-unknown",
      message: "Some runs do not say whether they were on a treadmill; they were taken to match the others.",
    });
  return succeed(value, warnings);
}

/** RULES M4: treadmill and outdoor measures are never compared with each other. */
function surfaceProblems(runs: readonly Run[]): Problem[] {
  const names = (surface: Run["surface"]): string[] =>
    runs.filter((run) => run.surface === surface).map((run) => run.id);
  const treadmill = names("treadmill");
  const outdoor = names("outdoor");
  if (treadmill.length === 0 || outdoor.length === 0) return [];
  return [
    {
      code: "mixed-surfaces",
      where: { field: "surface" },
      got: `treadmill (${treadmill.slice(0, 3).join(", ")}) together with outdoor (${outdoor.slice(0, 3).join(", ")})`,
      expected: "only treadmill or only outdoor runs in one comparison",
      remedy: "Compare treadmill with treadmill and outdoor with outdoor.",
    },
  ];
}

function cueWarnings(sides: PreparedSides): Warning[] {
  const share = (runs: readonly PreparedRun[]): number => {
    const minutes = runs.flatMap((run) => run.minutes);
    return minutes.reduce((sum, minute) => sum + minute.cueOnShare, 0) / minutes.length;
  };
  if (share(sides.after) - share(sides.before) < 0.5) return [];
  return [
    {
      code: "beat-was-on",
      message:
        "The beat was playing for most of the runs after: this shows that the runner follows it, not that it lasts.",
    },
  ];
}
