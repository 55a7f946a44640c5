// A failed call as sentences a coach can act on.
import { ApiError } from "../../api/index.ts";
import { describeProblems, type Problem } from "../../engine/quantities/problem.ts";
import { curved } from "../../ui/words/typography.ts";
import { commonWords } from "../strings/common.ts";

export function sentencesOf(error: unknown): readonly string[] {
  if (!(error instanceof ApiError)) return [commonWords.unexpected];
  const { problem } = error;
  if (problem.code === "offline") return [commonWords.offline];
  const lines = describeProblems((problem.problems ?? []) as readonly Problem[]);
  if (lines.length > 0) return lines.map(curved);
  const id = problem.status >= 500 && problem.instance !== undefined ? ` (${problem.instance})` : "";
  return [curved(`${problem.detail ?? problem.title}${id}`)];
}

export function isOffline(error: unknown): boolean {
  return error instanceof ApiError && error.problem.code === "offline";
}

export function statusOf(error: unknown): number | undefined {
  return error instanceof ApiError ? error.problem.status : undefined;
}
