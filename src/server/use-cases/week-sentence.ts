// One line of evidence per runner, in plain words with the numbers.
import type { RunnerWeek } from "./runner-week.ts";
import { inBandOfWeek } from "./week-evidence.ts";

const percent = (share: number): string => `${Math.round(100 * share)} %`;
const signed = (value: number, digits = 0): string => {
  const text = Math.abs(value).toFixed(digits);
  return Number(text) === 0 ? text : `${value > 0 ? "+" : "−"}${text}`;
};

export function weekSentence(entry: RunnerWeek): string {
  const parts: string[] = [];
  if (entry.worstPain !== null && entry.worstPain > 0) parts.push(`pain ${entry.worstPain} of 10`);
  if (entry.plan?.status === "stopped") parts.push("stopped; referred");
  else if (entry.plan === null) parts.push(withoutPlan(entry));
  if (entry.sentNothing) {
    if (entry.plan?.status === "running") parts.push("nothing sent this week");
    return sentence(parts);
  }
  const { evidence } = entry;
  if (evidence !== null) {
    const inBand = inBandOfWeek(evidence);
    if (inBand !== null) {
      const runs = evidence.measuredThisWeek ?? 0;
      parts.push(`on the beat ${percent(inBand)} of the time over ${runs} ${runs === 1 ? "run" : "runs"}`);
    }
    if (evidence.speedChangeShare !== undefined) parts.push(`speed ${signed(100 * evidence.speedChangeShare, 1)} %`);
    if (evidence.lateDropShare !== undefined && Math.abs(evidence.lateDropShare) >= 0.005)
      parts.push(`step rate ${signed(-100 * evidence.lateDropShare, 1)} % towards the end`);
    if (evidence.carryOverShare !== undefined)
      parts.push(`keeps ${percent(evidence.carryOverShare)} of the rise without the beat`);
  }
  const change = entry.state?.matchedChangeSpm ?? null;
  if (change !== null) parts.push(`${signed(change, 1)} spm at the same speed so far`);
  if (parts.length === 0)
    parts.push(entry.recordingCount > 0 ? "recorded, without a steady stretch" : "counted this week");
  return sentence(parts);
}

function withoutPlan({ runner, state }: RunnerWeek): string {
  if (runner.advice === "leave-alone") return "left alone as agreed";
  if (runner.advice === "refer") return "referred; no plan";
  if (state?.baseline.kind === "baseline") return "baseline measured, proposal not accepted yet";
  return "no baseline yet";
}

function sentence(parts: readonly string[]): string {
  const text = parts.join("; ");
  return text === "" ? "Nothing to say yet." : `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
