// The plan as a staircase, its next sessions with their beat tracks, and the stages as a table.
import { useState } from "react";
import type { CallOutput, Plan, ProposalAnswer } from "../../api/index.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Fitted } from "../../ui/pictures/fitted.tsx";
import { Staircase } from "../../ui/pictures/staircase.tsx";
import { HelpMark } from "../controls/help-mark.tsx";
import { Reasons } from "../controls/reasons.tsx";
import { api } from "../data/client.ts";
import { CalendarDialog } from "../plan/calendar-dialog.tsx";
import { RemakePlan } from "../plan/remake-plan.tsx";
import { SessionsList } from "../plan/sessions-list.tsx";
import { StageTable } from "../plan/stage-table.tsx";
import { planWords } from "../strings/plan.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RunnerPart } from "./part.ts";
import { stairsOf } from "./stairs.ts";

const words = runnerWords.plan;

interface PlanSectionProps extends RunnerPart {
  readonly answer: CallOutput<"GET /api/runners/:runnerId/plan"> | undefined;
  readonly proposal: ProposalAnswer | undefined;
}

export function PlanSection({ groupId, runner, format, answer, proposal }: PlanSectionProps) {
  const [remaking, setRemaking] = useState(false);
  const [moving, setMoving] = useState(false);
  if (!answer) return null;
  const canMake = proposal?.accepted?.advice === "change";
  return (
    <section>
      <h2 className="section-head">
        {words.heading} <HelpMark topic="stage" />
      </h2>
      {answer.kind === "no-plan" ? (
        <p className="muted">{answer.because === "" ? words.empty : answer.because}</p>
      ) : (
        <PlanBody groupId={groupId} runner={runner} format={format} plan={answer} />
      )}
      <div className="row no-print">
        {answer.kind === "plan" && answer.status === "running" && (
          <Button onClick={() => setMoving(true)}>{planWords.changeCalendar}</Button>
        )}
        {canMake && <Button onClick={() => setRemaking(true)}>{words.remake}</Button>}
        {answer.kind === "plan" && (
          <a
            className="button"
            download
            href={api.address("GET /api/runners/:runnerId/plan.ics", { params: { runnerId: runner.id } })}
          >
            {words.calendar}
          </a>
        )}
      </div>
      {remaking && (
        <RemakePlan
          groupId={groupId}
          runner={runner}
          plan={answer.kind === "plan" ? answer : undefined}
          onClose={() => setRemaking(false)}
        />
      )}
      {moving && answer.kind === "plan" && (
        <CalendarDialog groupId={groupId} runnerId={runner.id} plan={answer} onClose={() => setMoving(false)} />
      )}
    </section>
  );
}

function PlanBody({ groupId, runner, format, plan }: RunnerPart & { readonly plan: Plan }) {
  const here = plan.stages[plan.currentStageIndex];
  return (
    <>
      <Fitted maxPx={1080}>
        {(width) => (
          <Staircase
            width={width}
            stairs={stairsOf(plan, format)}
            rateText={(rate) => format.beatValue(rate)}
            title={words.stairTitle}
            description={words.stairIs(
              plan.stages.length,
              plan.currentStageIndex,
              here ? format.beat(here.stepRateSpm) : "",
            )}
            hereWord={words.here}
          />
        )}
      </Fitted>
      {plan.status === "stopped" && <p className="notice">{words.stopped}</p>}
      <p className="muted small">{plan.protocolId === null ? planWords.caution : planWords.protocolCaution}</p>
      <p className="muted small">
        {words.total(format.duration(plan.totalCuedMinutes * SECONDS_PER_MINUTE))}.{" "}
        {plan.recallChecks.length > 0 &&
          words.recall(plan.recallChecks.map((check) => format.dateShort(check.on)).join(", "))}
      </p>
      <h3>{words.upcoming}</h3>
      <SessionsList groupId={groupId} runner={runner} format={format} plan={plan} />
      <details className="no-print">
        <summary>{words.stageTable}</summary>
        <StageTable groupId={groupId} runner={runner} format={format} plan={plan} />
      </details>
      <details className="no-print">
        <summary>{words.why}</summary>
        <Reasons reasons={plan.reasons} />
        {plan.cautions.map((caution) => (
          <p key={caution} className="small">
            {caution}
          </p>
        ))}
      </details>
    </>
  );
}
