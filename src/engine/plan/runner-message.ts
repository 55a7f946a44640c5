// The week as a plain-text message to one runner, ready to paste or to send.
import { Temporal } from "temporal-polyfill";
import { defaultUnits, type DisplayUnits, showSpeed, showStepRate, trimmed } from "../quantities/display.ts";
import { listeningCaution, standardCautions } from "../target/cautions.ts";
import { describeStepLength } from "../session/step-length.ts";
import { addDays } from "./calendar.ts";
import type { Decision } from "./decision.ts";
import type { Plan, PlainDateText, PlannedSession } from "./plan.ts";

export interface MessageOptions {
  readonly runner: string;
  readonly coach?: string;
  /** First day of the week to tell. */
  readonly weekOn: PlainDateText;
  /** The decision of the week before, to say why. */
  readonly decision?: Decision;
  /** The runner's own page. */
  readonly link?: string;
  readonly units?: DisplayUnits;
}

const days = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
const months = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** "Tuesday 3 March" in English, the language of the messages. */
export function sayDate(date: PlainDateText): string {
  const plain = Temporal.PlainDate.from(date);
  return `${days[plain.dayOfWeek - 1]} ${plain.day} ${months[plain.month - 1]}`;
}

export function runnerMessage(plan: Plan, options: MessageOptions): string {
  const units = options.units ?? plan.request.units ?? defaultUnits;
  const lines: string[] = [`Hello ${options.runner},`, ""];
  if (plan.status === "stopped") {
    lines.push(
      "Please stop running to the beat for now, and have a doctor or physiotherapist look at it. Nothing is lost: we go on when you are cleared.",
    );
    return [...lines, ...closing(options)].join("\n");
  }
  if (options.decision !== undefined) lines.push(...saidToRunner(options.decision), "");
  const until = addDays(options.weekOn, 6);
  const stage = plan.stages.find((entry) => entry.startsOn <= until && entry.endsOn >= options.weekOn);
  const sessions = [...plan.stages.flatMap((entry) => entry.sessions), ...plan.recallChecks].filter(
    (session) => session.date >= options.weekOn && session.date <= until,
  );
  if (sessions.length === 0) lines.push("No session with the beat this week. Run as you like, nothing is caught up.");
  else {
    if (stage !== undefined) lines.push(targetLine(plan, stage.stepRateSpm, stage.rung < 0, units));
    lines.push(...sessions.map(sessionLine));
    if (stage?.loadFrozenUntil !== undefined && stage.loadFrozenUntil >= options.weekOn)
      lines.push("A new step this week, so keep distance and speed as they were: one thing at a time.");
  }
  if (options.link !== undefined) lines.push("", `Your page, with the beat and your sessions: ${options.link}`);
  lines.push("", ...standardCautions, listeningCaution);
  return [...lines, ...closing(options)].join("\n");
}

function closing(options: MessageOptions): string[] {
  return options.coach === undefined ? [] : ["", options.coach];
}

function targetLine(plan: Plan, stepRateSpm: number, atBaseline: boolean, units: DisplayUnits): string {
  if (atBaseline) return "This week without the beat, at your own step rate:";
  const speed = plan.speedMps === null ? "" : ` at ${showSpeed(plan.speedMps, units)}`;
  const shorter = describeStepLength(
    {
      baselineSpm: plan.baselineSpm,
      targetSpm: stepRateSpm,
      ...(plan.speedMps === null ? {} : { speedMps: plan.speedMps }),
    },
    units,
  );
  return `This week ${showStepRate(stepRateSpm, units)}${speed}. ${shorter}`.trim();
}

function sessionLine(planned: PlannedSession): string {
  const when = `${sayDate(planned.date)}${planned.place === "group" ? ", with the group" : ""}`;
  if (planned.kind === "recall-check") return `${when}: ${planned.session.title}. No beat; record it or count.`;
  const minutes = `${trimmed(planned.mainMinutes, 0)} minutes`;
  const percentOn = Math.round(100 * planned.cueShare);
  const beat =
    percentOn >= 100 ? "beat on all the way" : percentOn <= 0 ? "beat off" : `beat on for about ${percentOn} % of it`;
  return `${when}: ${planned.session.title}, ${minutes}, ${beat}${planned.easing ? " (short, the race is near)" : ""}.`;
}

function saidToRunner(decision: Decision): string[] {
  switch (decision.action) {
    case "move-on":
      return ["You held the step. On to the next one."];
    case "stay":
      return ["The same step once more this week.", ...decision.reasons.map((entry) => entry.text)];
    case "ease-back":
      return ["One step back this week, on purpose.", ...decision.reasons.map((entry) => entry.text)];
    case "stop-and-refer":
      return decision.reasons.map((entry) => entry.text);
  }
}
