// spondee plan: stages and sessions on a calendar.
import { makePlan } from "../../engine/plan/make-plan.ts";
import type { DateRange, Plan, PlanRequest } from "../../engine/plan/plan.ts";
import { type DisplayUnits, showStepRate } from "../../engine/quantities/display.ts";
import { planCalendarFile } from "../plan-calendar.ts";
import { proposeChange } from "../../engine/target/propose.ts";
import { type Command, InputError, type Options, UsageError } from "../command.ts";
import { displayUnits, proposalInput, proposalOptions } from "../proposal-options.ts";
import { rounded, table, warningLines } from "../text.ts";

const weekdays = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] as const;

export const planCommand: Command = {
  name: "plan",
  summary: "stages and sessions on a calendar, from a baseline or by a published protocol",
  usage:
    "--baseline RATE --pace M:SS [--per-foot] [--miles] [--start DATE] [--evening wed] [--sessions N] [--away FROM..TO] [--race DATE] [--ics FILE]",
  options: {
    ...proposalOptions,
    start: { value: "DATE", help: "first day, like 2026-03-02 (default today)" },
    evening: { value: weekdays.join("|"), help: "the group's evening" },
    sessions: { value: "N", help: "sessions a week" },
    away: { value: "FROM..TO", repeat: true, help: "days without sessions, both included" },
    race: { value: "DATE", help: "a race: no new stage shortly before it" },
    protocol: { value: "ID", help: "a published protocol instead of small stages" },
    ics: { value: "FILE", help: "write the sessions as an iCalendar file (RFC 5545)" },
  },
  async run({ options, outside }) {
    const proposal = proposeChange(proposalInput(options));
    if (proposal.advice !== "change") {
      throw new InputError([
        {
          code: "no-plan-for-this-advice",
          where: {},
          got: `the advice "${proposal.advice}"`,
          expected: "a runner for whom a change is proposed",
          remedy: proposal.reasons.map(({ text }) => text).join(" "),
        },
      ]);
    }
    const today = new Date(outside.now()).toISOString().slice(0, 10);
    const result = makePlan({ proposal, startDate: options.text("start") ?? today, ...calendarOf(options) });
    if (!result.ok) throw new InputError(result.problems);
    const plan = result.value;
    const ics = options.text("ics");
    if (ics !== undefined) {
      const calendar = planCalendarFile(plan, outside.now());
      await outside.writeFile(ics, [new TextEncoder().encode(calendar)]);
    }
    return {
      json: { ...plan, warnings: result.warnings, calendarFile: ics ?? null },
      text: describePlan(plan, warningLines(result.warnings), displayUnits(options)),
    };
  },
};

function calendarOf(options: Options): Omit<PlanRequest, "proposal" | "startDate"> {
  const evening = options.choice("evening", weekdays);
  const sessionsPerWeek = options.numberIn("sessions", 1, 7, "sessions a week");
  const raceDate = options.text("race");
  const protocolId = options.text("protocol");
  return {
    away: options.texts("away").map(rangeOf),
    ...(evening === undefined ? {} : { groupWeekday: weekdays.indexOf(evening) + 1 }),
    ...(sessionsPerWeek === undefined ? {} : { sessionsPerWeek }),
    ...(raceDate === undefined ? {} : { raceDate }),
    ...(protocolId === undefined ? {} : { protocolId }),
  };
}

function rangeOf(text: string): DateRange {
  const [from, to, ...more] = text.split("..");
  if (from === undefined || to === undefined || more.length > 0)
    throw new UsageError(`--away takes FROM..TO, not "${text}"`);
  return { from, to };
}

const kindWords: Readonly<Record<Plan["stages"][number]["kind"], string>> = {
  "step-up": "a step up",
  repeat: "the same again",
  "step-back": "a step back",
  "race-hold": "held for the race",
  consolidation: "keeping it",
};

function describePlan(plan: Plan, notes: readonly string[], units: DisplayUnits): string {
  return [
    `From ${showStepRate(plan.baselineSpm, units)} to ${showStepRate(plan.aimSpm, units)}; ${rounded(plan.totalMinutes, 0)} minutes in all, ${rounded(plan.totalCuedMinutes, 0)} with the beat.`,
    "",
    table([
      ["stage", "from", "to", "beat", "sessions", "kind"],
      ...plan.stages.map((stage) => [
        String(stage.index + 1),
        stage.startsOn,
        stage.endsOn,
        showStepRate(stage.stepRateSpm, units),
        String(stage.sessions.length),
        kindWords[stage.kind],
      ]),
    ]),
    "",
    ...plan.recallChecks.map(({ date }) => `looked at again with the beat off: ${date}`),
    ...plan.reasons.map(({ rule, text }) => `${rule.padEnd(3)} ${text}`),
    ...notes,
    "",
    ...plan.cautions.map((caution) => `! ${caution}`),
  ].join("\n");
}
