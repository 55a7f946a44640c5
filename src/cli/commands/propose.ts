// spondee propose: whether to change a runner's step rate, how far, and why.
import { formatMinutesSeconds, paceSPerKm } from "../../engine/quantities/units.ts";
import type { Proposal } from "../../engine/target/proposal.ts";
import { proposeChange } from "../../engine/target/propose.ts";
import type { Command } from "../command.ts";
import { proposalInput, proposalOptions } from "../proposal-options.ts";
import { rounded, table } from "../text.ts";

export const proposeCommand: Command = {
  name: "propose",
  summary: "whether to change a runner's step rate, how far, and why",
  usage: "--baseline SPM --speed MPS [--height M] [--leg-length M] [--history bone|achilles|calf|none] [--pain 0-10]",
  options: proposalOptions,
  async run({ options }) {
    const proposal = proposeChange(proposalInput(options));
    return { json: proposal, text: describeProposal(proposal) };
  },
};

const sentence = {
  "leave-alone": "Leave it alone.",
  change: "Change it, in small stages.",
  refer: "Do not start: refer.",
  "measure-first": "Measure first.",
} as const;

export function describeProposal(proposal: Proposal): string {
  const lines: string[] = [sentence[proposal.advice]];
  if (proposal.targetSpm !== null) {
    lines.push(
      `Target ${rounded(proposal.targetSpm.low, 0)} to ${rounded(proposal.targetSpm.high, 0)} spm, stages ${proposal.stages.map((stage) => rounded(stage, 1)).join(", ")}`,
    );
  }
  lines.push(...proposal.reasons.map(({ rule, text }) => `${rule}  ${text}`));
  if (proposal.paceTable.length > 0) {
    lines.push(
      "",
      table([
        ["pace per km", "speed m/s", "spm", "step m"],
        ...proposal.paceTable.map((row) => [
          formatMinutesSeconds(paceSPerKm(row.speedMps)),
          rounded(row.speedMps, 2),
          rounded(row.stepRateSpm, 1),
          rounded(row.stepLengthM, 2),
        ]),
      ]),
    );
  }
  lines.push("", ...proposal.cautions.map((caution) => `! ${caution}`));
  return lines.join("\n");
}
