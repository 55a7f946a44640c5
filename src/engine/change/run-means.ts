// A run as one row: means over its steady minutes, uphill taken off.
import { UPHILL_EFFECT } from "../evidence/change.ts";
import type { GroupRun } from "./group-prior.ts";
import type { Run } from "./run.ts";
import { steadyMinutes } from "./steady-minutes.ts";

export interface RunMean {
  readonly lnStepRate: number;
  readonly lnSpeed: number;
}

/** Undefined for a run without steady minutes. */
export function runMean(run: Run): RunMean | undefined {
  const { minutes } = steadyMinutes(run.windows);
  if (minutes.length === 0) return undefined;
  const mean = (of: (minute: (typeof minutes)[number]) => number): number =>
    minutes.reduce((sum, minute) => sum + of(minute), 0) / minutes.length;
  return {
    lnStepRate: mean((m) => m.lnStepRate - UPHILL_EFFECT.value.mean * Math.max(0, m.slope)),
    lnSpeed: mean((m) => m.lnSpeed),
  };
}

/** The runs of several runners, before and after, for `groupPriorOf`. Surfaces are kept apart as kinds of their own. */
export function groupRunsOf(
  runners: readonly { readonly id: string; readonly before: readonly Run[]; readonly after: readonly Run[] }[],
): GroupRun[] {
  return runners.flatMap(({ id, before, after }) =>
    [before, after].flatMap((side, phase) =>
      side.flatMap((run) => {
        const mean = runMean(run);
        return mean === undefined ? [] : [{ runnerId: id, phase: `${phase} ${run.surface}`, ...mean }];
      }),
    ),
  );
}
