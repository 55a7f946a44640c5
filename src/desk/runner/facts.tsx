// Where the runner stands, in a handful of lines.
import type { ReactNode } from "react";
import type { BaselineAnswer, ComparisonAnswer, Plan, ProposalAnswer } from "../../api/index.ts";
import { stepLengthM } from "../../engine/quantities/units.ts";
import type { Format } from "../../ui/words/format.ts";
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
    const { estimate, standardError } = known.stepRateSpm;
    const speed = known.speedMps === null ? "" : words.at(format.speed(known.speedMps));
    add(
      words.baseline,
      "baseline",
      words.baselineValue(format.rate(estimate), format.rateValue(standardError, 1), speed),
    );
  }
  const stage = plan?.stages[plan.currentStageIndex];
  if (plan && stage) {
    add(
      words.stage,
      "stage",
      words.stageValue(plan.currentStageIndex, plan.stages.length, format.rate(stage.stepRateSpm)),
    );
    const speedMps = known?.speedMps ?? proposal?.accepted?.proposal.speedMps ?? null;
    if (speedMps !== null) {
      const length = stepLengthM(speedMps, stage.stepRateSpm);
      const change = length - stepLengthM(speedMps, plan.baselineSpm);
      add(words.step, "stepLength", words.stepValue(format.length(length), format.lengthChange(change)));
    }
  }
  if (comparison?.kind === "comparison") {
    if (comparison.targetShare !== null) add(words.share, "target", format.percent(comparison.targetShare));
    if (comparison.carryOver)
      add(words.carryOver, "carryOver", words.carryOverValue(format.percent(comparison.carryOver.share)));
    const drop = comparison.lateRunDropSpm.after ?? comparison.lateRunDropSpm.before;
    if (drop) add(words.lateDrop, "lateRunDrop", format.rateChange(drop.estimate));
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
