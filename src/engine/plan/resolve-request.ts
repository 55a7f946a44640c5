// A plan request with its defaults filled in and its faults told.
import { fail, type Problem, type Result, succeed } from "../quantities/problem.ts";
import type { DisplayUnits } from "../quantities/display.ts";
import { starterTemplates } from "../session/starter-templates.ts";
import type { SessionTemplate } from "../session/template.ts";
import { floorToGrid } from "../target/ladder.ts";
import { type AdviceSettings, defaultSettings } from "../target/settings.ts";
import { findProtocol, protocols } from "./all-protocols.ts";
import { isPlainDate } from "./calendar.ts";
import type { PlanRequest } from "./plan.ts";
import { type Protocol, sessionsByWeek } from "./protocol.ts";
import { type CueSchedule, fadedCue, type MinutesSchedule } from "./schedule.ts";
import type { WalkCalendar, WalkLength } from "./walk.ts";

export interface Resolved {
  readonly settings: AdviceSettings;
  readonly protocol: Protocol | undefined;
  readonly rungsSpm: readonly number[];
  readonly baselineSpm: number;
  readonly capSpm: number;
  readonly speedMps: number | null;
  readonly minutes: MinutesSchedule;
  readonly cue: CueSchedule;
  readonly template: SessionTemplate;
  readonly groupTemplate: SessionTemplate | undefined;
  readonly length: WalkLength;
  readonly calendar: WalkCalendar;
  readonly units: DisplayUnits | undefined;
}

export function resolveRequest(request: PlanRequest): Result<Resolved> {
  const problems = [...datesWrong(request), ...numbersWrong(request)];
  const settings = request.settings ?? defaultSettings;
  const { proposal } = request;
  const { baselineSpm, capSpm, aimSpm } = proposal;
  if (proposal.advice !== "change" || baselineSpm === null || capSpm === null || aimSpm === null)
    return fail(
      problem(
        "proposal-not-change",
        "proposal",
        `advice "${proposal.advice}"`,
        "a proposal to change",
        "Follow the advice, or set the coach's own aim first.",
      ),
      ...problems,
    );
  const protocol = request.protocolId === undefined ? undefined : findProtocol(request.protocolId);
  if (request.protocolId !== undefined && protocol === undefined)
    problems.push(
      problem(
        "unknown-protocol",
        "protocolId",
        request.protocolId,
        `one of ${protocols.map(({ id }) => id).join(", ")}`,
        "Choose one of these, or leave the protocol out for small stages.",
      ),
    );
  const refused = protocol !== undefined && proposal.careful;
  if (refused)
    problems.push(
      problem(
        "protocol-not-careful",
        "protocolId",
        protocol.id,
        "the careful ladder after calf, Achilles or bone trouble (T5)",
        "Leave the protocol out: its one big step is not for this runner.",
      ),
    );
  const rungsSpm = rungs(request, protocol);
  if (!refused && (rungsSpm.length === 0 || rungsSpm.some((rate) => rate > capSpm || rate <= baselineSpm)))
    problems.push(
      problem(
        "stages-outside-cap",
        "proposal",
        rungsSpm.join(", ") || "no stages",
        `stages above ${baselineSpm} and up to ${capSpm} spm`,
        "Propose again from the baseline.",
      ),
    );
  if (problems.length > 0) return { ok: false, problems };

  const byWeek = protocol === undefined ? undefined : sessionsByWeek(protocol);
  const usualPerWeek = request.sessionsPerWeek ?? settings.sessionsPerWeek;
  return succeed({
    settings,
    protocol,
    rungsSpm,
    baselineSpm,
    capSpm,
    speedMps: proposal.speedMps,
    minutes: request.minutesSchedule ??
      protocol?.minutes.value ?? {
        kind: "linear",
        startMinutes: request.minutesStart ?? settings.sessionMinutesStart,
        endMinutes: request.minutesEnd ?? Math.max(settings.sessionMinutesEnd, request.minutesStart ?? 0),
      },
    cue: request.cueSchedule ?? protocol?.cueSchedule.value ?? { ...fadedCue, fullShare: settings.fadeFromShare },
    template: request.template ?? starterTemplates.beatRun,
    groupTemplate: request.groupTemplate,
    length:
      protocol === undefined
        ? {
            rungCount: rungsSpm.length,
            stageDaysMin: settings.stageDaysMin,
            stageSessionsMin: settings.stageSessionsMin,
            consolidationWeeks: request.consolidationWeeks ?? settings.consolidationWeeks,
            restartsWhenMissed: true,
          }
        : {
            rungCount: 1,
            stageDaysMin: 7,
            stageSessionsMin: protocol.sessionCount.value,
            consolidationWeeks: 0,
            restartsWhenMissed: false,
          },
    calendar: {
      perWeek: usualPerWeek,
      ...(request.groupWeekday === undefined ? {} : { groupWeekday: request.groupWeekday }),
      away: [...(request.groupAway ?? []), ...(request.away ?? [])],
      ...(request.raceDate === undefined ? {} : { raceDate: request.raceDate }),
      ...(byWeek === undefined || protocol === undefined
        ? {}
        : { perWeekOf: protocolWeeks(byWeek, protocol.sessionCount.value) }),
    },
    units: request.units,
  });
}

/** The paper's weeks; sessions that found no day are caught up afterwards, never more than the paper has. */
function protocolWeeks(byWeek: readonly number[], count: number): (week: number, sessionsDone: number) => number {
  const busiest = Math.max(...byWeek);
  return (week, sessionsDone) => Math.min(byWeek[week] ?? busiest, count - sessionsDone);
}

function rungs(request: PlanRequest, protocol: Protocol | undefined): readonly number[] {
  const { baselineSpm, aimSpm, stages } = request.proposal;
  if (protocol === undefined) return stages;
  const rise = protocol.riseShare.value;
  // A protocol that trained something else only lends its schedule; the aim stays the proposal's.
  const target = rise === null || baselineSpm === null ? aimSpm : floorToGrid(baselineSpm * (1 + rise));
  return target === null ? [] : [target];
}

function datesWrong(request: PlanRequest): Problem[] {
  const problems: Problem[] = [];
  const check = (field: string, date: string | undefined): boolean => {
    if (date === undefined || isPlainDate(date)) return true;
    problems.push(problem("date-unreadable", field, date, "a date like 2026-03-02", "Correct the date."));
    return false;
  };
  const sound = [check("startDate", request.startDate), check("raceDate", request.raceDate)].every(Boolean);
  const ranges = (["away", "groupAway"] as const).flatMap((list) =>
    (request[list] ?? []).map((range, index) => [`${list}[${index}]`, range] as const),
  );
  for (const [field, range] of ranges) {
    if (check(field, range.from) && check(field, range.to) && range.to < range.from)
      problems.push(
        problem(
          "away-backwards",
          field,
          `${range.from} to ${range.to}`,
          "an end on or after the start",
          "Swap the dates.",
        ),
      );
  }
  if (sound && request.raceDate !== undefined && request.raceDate < request.startDate)
    problems.push(
      problem("race-before-start", "raceDate", request.raceDate, `on or after ${request.startDate}`, "Leave it out."),
    );
  return problems;
}

function numbersWrong(request: PlanRequest): Problem[] {
  const problems: Problem[] = [];
  const whole = (field: "groupWeekday" | "sessionsPerWeek" | "consolidationWeeks", low: number, high: number): void => {
    const value = request[field];
    if (value !== undefined && !(Number.isInteger(value) && value >= low && value <= high))
      problems.push(
        problem(
          `${kebab(field)}-out-of-range`,
          field,
          String(value),
          `a whole number, ${low} to ${high}`,
          "Change it.",
        ),
      );
  };
  whole("groupWeekday", 1, 7);
  whole("sessionsPerWeek", 1, 6);
  whole("consolidationWeeks", 0, 12);
  for (const field of ["minutesStart", "minutesEnd"] as const) {
    const value = request[field];
    if (value !== undefined && !(value >= 5 && value <= 90))
      problems.push(problem("minutes-out-of-range", field, String(value), "5 to 90 minutes", "Change the minutes."));
  }
  if ((request.minutesStart ?? 0) > (request.minutesEnd ?? Infinity))
    problems.push(
      problem(
        "minutes-fall",
        "minutesEnd",
        `${request.minutesStart} to ${request.minutesEnd}`,
        "minutes that grow or stay",
        "Swap them.",
      ),
    );
  return problems;
}

function kebab(name: string): string {
  return name.replaceAll(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
}

function problem(code: string, field: string, got: string, expected: string, remedy: string): Problem {
  return { code, where: { field }, got, expected, remedy };
}
