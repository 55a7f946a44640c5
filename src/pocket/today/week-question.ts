// Once a week, whatever else was recorded: did anything hurt? Without an answer the plan does not move on (rules D8 and T5).
import type { RunnerToday } from "../../api/index.ts";

/** What this phone was told by the runner, perhaps not yet by way of the server. */
export interface WeekAnswered {
  /** The first day of the week it was about, "2026-03-05". */
  readonly weekStartsOn: string;
  readonly calfAchilles: boolean;
}

export type WeekQuestion = "pain" | "pain-and-calf" | "calf" | undefined;

const WEEK_MS = 7 * 86_400_000;

/** The first day of the week that a moment lies in; weeks follow the one the server named. UTC is near enough for weeks. */
export function weekAt(today: RunnerToday, nowMs: number): string {
  const startMs = Date.parse(today.week.startsOn);
  const weeks = Math.max(0, Math.floor((nowMs - startMs) / WEEK_MS));
  return new Date(startMs + weeks * WEEK_MS).toISOString().slice(0, 10);
}

/** What is still to be asked this week; undefined when it is answered, or when no plan runs. */
export function weekQuestion(today: RunnerToday, answered: WeekAnswered | undefined, nowMs: number): WeekQuestion {
  if (today.targetSpm === null || today.stopped) return undefined;
  const week = weekAt(today, nowMs);
  const here = answered?.weekStartsOn === week ? answered : undefined;
  const atServer = today.week.startsOn === week ? today.week : undefined;
  const pain = here !== undefined || atServer?.painAnswered === true;
  const calf = !today.week.askCalfAchilles || here?.calfAchilles === true || atServer?.calfAchillesAnswered === true;
  if (pain && calf) return undefined;
  if (pain) return "calf";
  return calf ? "pain" : "pain-and-calf";
}
