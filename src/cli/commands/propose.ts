// spondee propose: whether to change a runner's step rate, how far, and why.
import { type DisplayUnits, showSpeed, showStepLength, showStepRate } from "../../engine/quantities/display.ts";
import type { Proposal } from "../../engine/target/proposal.ts";
import { proposeChange } from "../../engine/target/propose.ts";
import type { Command } from "../command.ts";
import { displayUnits, proposalInput, proposalOptions } from "../proposal-options.ts";
import { rounded, table } from "../text.ts";

export const proposeCommand: Command = {
  name: "propose",
  summary: "whether to change a runner's step rate, how far, and why",
  usage:
    "--baseline RATE --pace M:SS [--per-foot] [--miles] [--height M] [--leg-length M] [--history bone|achilles|calf|none] [--pain 0-10]",
  options: proposalOptions,
  async run({ options }) {
    const proposal = proposeChange(proposalInput(options));
    return { json: proposal, text: describeProposal(proposal, displayUnits(options)) };
  },
};

const sentence = {
  "leave-alone": "Leave it alone.",
  change: "Change it, in small stages.",
  refer: "Do not start: refer.",
  "measure-first": "Measure first.",
} as const;

export function describeProposal(proposal: Proposal, units: DisplayUnits): string {
  const lines: string[] = [sentence[proposal.advice]];
  if (proposal.targetSpm !== null) {
    lines.push(
      `Aim ${showStepRate(proposal.aimSpm ?? proposal.targetSpm.low, units)}, in stages: ${proposal.stages.map((stage) => showStepRate(stage, units)).join(", ")}.`,
      `On the beat is from ${showStepRate(proposal.targetSpm.low, units)} to ${showStepRate(proposal.targetSpm.high, units)}.`,
    );
  }
  if (units.feet === "one" && proposal.reasons.length > 0) lines.push("The reasons count both feet:");
  lines.push(...proposal.reasons.map(({ rule, text }) => `${rule.padEnd(3)} ${text}`));
  if (proposal.paceTable.length > 0) {
    lines.push(
      "",
      table([
        ["pace", "m/s", "step rate", "step length"],
        ...proposal.paceTable.map((row) => [
          showSpeed(row.speedMps, units),
          rounded(row.speedMps, 2),
          showStepRate(row.stepRateSpm, units),
          showStepLength(row.stepLengthM, units),
        ]),
      ]),
    );
  }
  lines.push("", ...proposal.cautions.map((caution) => `! ${caution}`));
  return lines.join("\n");
}
