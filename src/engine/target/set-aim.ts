// The coach's own aim in place of the proposed one: allowed under the cap, with name and reason, and shown as such.
import { fail, type Result, succeed } from "../quantities/problem.ts";
import { makeLadder } from "./ladder.ts";
import type { Proposal } from "./proposal.ts";
import { plain, reason } from "./reason.ts";
import { type AdviceSettings, defaultSettings } from "./settings.ts";
import { paceTable } from "./speed-curve.ts";

export interface CoachAim {
  /** Both feet, at the proposal's speed. */
  readonly aimSpm: number;
  readonly by: string;
  /** ISO date or date-time, as the caller's clock gave it. */
  readonly at: string;
  /** Needed when the advice was to refer. */
  readonly reason: string;
}

/**
 * The proposal with the coach's aim. Refused above the cap (T4, T5), without a rise, without a baseline, and without a
 * typed reason where the advice was to refer (D10).
 */
export function setAim(
  proposal: Proposal,
  aim: CoachAim,
  settings: AdviceSettings = defaultSettings,
): Result<Proposal> {
  const { baselineSpm, capSpm } = proposal;
  if (baselineSpm === null || capSpm === null || proposal.advice === "measure-first")
    return fail({
      code: "aim-without-baseline",
      where: { field: "aimSpm" },
      got: String(aim.aimSpm),
      expected: "a sound baseline first (T1)",
      remedy: "Count one foot for a minute, twice, or send a recording.",
    });
  const ladder = makeLadder(baselineSpm, aim.aimSpm, proposal.careful, settings);
  if (!(aim.aimSpm <= capSpm && ladder.aimSpm > baselineSpm))
    return fail({
      code: "aim-outside-cap",
      where: { field: "aimSpm" },
      got: `${plain(aim.aimSpm)} spm`,
      expected: `above ${plain(baselineSpm)} and up to ${plain(capSpm)} spm (${proposal.careful ? "T5" : "T4"})`,
      remedy: "Choose an aim in this range; more can follow in a later programme.",
    });
  if (aim.by.trim() === "" || (proposal.advice === "refer" && aim.reason.trim().length < 3))
    return fail({
      code: "aim-needs-reason",
      where: { field: aim.by.trim() === "" ? "by" : "reason" },
      got: "nothing",
      expected: "who sets the aim and, after the advice to refer, why",
      remedy: "Write it in your own words; it is kept with the plan.",
    });
  return succeed({
    ...proposal,
    advice: "change",
    aimSpm: ladder.aimSpm,
    targetSpm: {
      low: Math.max(baselineSpm, ladder.aimSpm * (1 - settings.bandShare)),
      high: Math.min(capSpm, ladder.aimSpm * (1 + settings.bandShare)),
    },
    stages: ladder.stages,
    paceTable:
      proposal.speedMps === null
        ? []
        : paceTable(ladder.aimSpm, proposal.speedMps, { exponent: proposal.speedExponent }),
    reasons: [
      reason(
        "D10",
        `${aim.by} set the aim to ${plain(ladder.aimSpm)} spm${aim.reason.trim() === "" ? "" : `: ${aim.reason.trim()}`}. The advice was: ${adviceWords[proposal.advice]}.`,
      ),
      ...proposal.reasons.filter((entry) => entry.rule !== "D10"),
    ],
    coachAim: { by: aim.by, at: aim.at, reason: aim.reason },
  });
}

const adviceWords: Record<Proposal["advice"], string> = {
  "leave-alone": "leave it alone",
  change: "change",
  refer: "refer",
  "measure-first": "measure first",
};
