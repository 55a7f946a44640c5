// Where the runner stands, in a handful of lines.
import type { ReactNode } from "react";
import type { BaselineAnswer, ComparisonAnswer, Plan, ProposalAnswer } from "../../api/index.ts";
import { stepLengthM } from "../../engine/quantities/units.ts";
import { type Format, intervalDigits } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import type { HelpTopic } from "../strings/help.ts";
import { runnerWords } from "../strings/runner.ts";

const words = runnerWords.facts;

export interface FactsProps {
  readonly format: Format;
  readonly baseline: BaselineAnswer | undefined;
  readonly proposal: ProposalAnswer | undefined;
  readonly plan: Plan | undefined;
  readonly comparison: ComparisonAnswer | undefined;
}

export function Facts({ format, baseline, proposal, plan, comparison }: FactsProps) {
  const rows: { readonly name: string; readonly topic: HelpTopic; readonly value: ReactNode }[] = [];
  const add = (name: string, topic: HelpTopic, value: ReactNode): void => void rows.push({ name, topic, value });
  const known = baseline?.kind === "baseline" ? baseline : undefined;
  if (known) {
    const { estimate, interval95 } = known.stepRateSpm;
    const digits = intervalDigits(interval95.low, interval95.high);
    const speed = known.speedMps === null ? "" : words.at(format.speed(known.speedMps));
    add(
      words.baseline,
      "baseline",
      words.baselineValue(
        format.rate(estimate),
        format.rateValue(interval95.low, digits),
        format.rateValue(interval95.high, digits),
        speed,
      ),
    );
  }
  const stage = plan?.stages[plan.currentStageIndex];
  if (plan && stage) {
    add(
      words.stage,
      "stage",
      words.stageValue(plan.currentStageIndex, plan.stages.length, format.beat(stage.stepRateSpm)),
    );
    const speedMps = known?.speedMps ?? proposal?.accepted?.proposal.speedMps ?? null;
    if (speedMps !== null) {
      const length = stepLengthM(speedMps, stage.stepRateSpm);
      const change = length - stepLengthM(speedMps, plan.baselineSpm);
      add(words.step, "stepLength", words.stepValue(format.length(length), format.lengthChange(change)));
    }
  }
  if (comparison?.kind === "comparison") {
    // Of a change that may be nothing, a share says nothing either.
    if (comparison.targetShare !== null && comparison.finding !== "not-enough-evidence")
      add(words.share, "targetShare", format.percent(comparison.targetShare));
    if (comparison.carryOver)
      add(words.carryOver, "carryOver", words.carryOverValue(format.percent(comparison.carryOver.share)));
    const drop = comparison.lateRunDropSpm.after ?? comparison.lateRunDropSpm.before;
    if (drop) add(words.lateDrop, "lateRunDrop", format.rateChange(drop.estimate, 1));
  }
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="facts">
      <h2 id="facts" className="visually-hidden">
        {words.heading}
      </h2>
      <dl className="facts">
        {rows.map((row) => (
          <div key={row.name} className="facts-row">
            <dt>
              {row.name} <HelpMark topic={row.topic} />
            </dt>
            <dd>{row.value}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
