// An analysed recording as one run of a comparison.
import type { Analysis } from "../analysis/analysis.ts";
import type { Run } from "./run.ts";

/** The run that `compareRuns` takes; `effortRating` 0–10 when the runner gave one. */
export function toRun(analysis: Analysis, id: string, options: { readonly effortRating?: number } = {}): Run {
  return {
    id,
    ...(analysis.startedAt === null ? {} : { startedAtMs: Date.parse(analysis.startedAt) }),
    surface: analysis.surface,
    windows: analysis.windows,
    ...(options.effortRating === undefined ? {} : { effortRating: options.effortRating }),
  };
}
