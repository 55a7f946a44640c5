// The stages as a table; those that have not begun can take another target.
import { useState } from "react";
import type { Plan } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import type { RunnerPart } from "../runner/part.ts";
import { planWords } from "../strings/plan.ts";
import { runnerWords } from "../strings/runner.ts";
import { StageDialog } from "./stage-dialog.tsx";

const words = runnerWords.plan;
type Stage = Plan["stages"][number];

export function StageTable({ groupId, runner, format, plan }: RunnerPart & { readonly plan: Plan }) {
  const [editing, setEditing] = useState<Stage>();
  const here = plan.stages[plan.currentStageIndex];
  const canEdit = (stage: Stage): boolean =>
    plan.status === "running" &&
    plan.protocolId === null &&
    stage.kind === "step-up" &&
    stage.index > plan.currentStageIndex &&
    stage.rung > (here?.rung ?? -1);
  return (
    <>
      <table className="table">
        <thead>
          <tr>
            <th scope="col">{words.column.stage}</th>
            <th scope="col" className="num">
              {words.column.rate}
            </th>
            <th scope="col">{words.column.from}</th>
            <th scope="col">{words.column.to}</th>
            <th scope="col">{words.column.why}</th>
            <th scope="col">
              <span className="visually-hidden">{words.here}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {plan.stages.map((stage) => (
            <tr key={stage.index} aria-current={stage.index === plan.currentStageIndex ? "step" : undefined}>
              <th scope="row">{stage.index + 1}</th>
              <td className="num">{format.beat(stage.stepRateSpm)}</td>
              <td>{format.dateShort(stage.startsOn)}</td>
              <td>{format.dateShort(stage.endsOn)}</td>
              <td>
                {words.kinds[stage.kind] ?? stage.kind}
                {stage.loadFrozenUntil !== null && (
                  <span className="muted">, {words.frozen(format.dateShort(stage.loadFrozenUntil))}</span>
                )}
              </td>
              <td>
                {stage.index === plan.currentStageIndex && <strong>{words.here}</strong>}
                {canEdit(stage) && (
                  <Button
                    kind="quiet"
                    aria-label={planWords.stage.editOf(stage.index + 1)}
                    onClick={() => setEditing(stage)}
                  >
                    {planWords.stage.edit}
                  </Button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {editing && (
        <StageDialog
          groupId={groupId}
          runnerId={runner.id}
          rung={editing.rung}
          stageNumber={editing.index + 1}
          stepRateSpm={editing.stepRateSpm}
          format={format}
          onClose={() => setEditing(undefined)}
        />
      )}
    </>
  );
}
