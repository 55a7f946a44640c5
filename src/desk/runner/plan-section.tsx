// The plan as a staircase, its next sessions with their beat tracks, and the stages as a table.
import { useQuery } from "@tanstack/react-query";
import { type FormEvent, useState } from "react";
import type { CallOutput, Plan, ProposalAnswer } from "../../api/index.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextField } from "../../ui/controls/field.tsx";
import { Fitted } from "../../ui/pictures/fitted.tsx";
import { Staircase } from "../../ui/pictures/staircase.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { HelpMark } from "../controls/help-mark.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { Reasons } from "../controls/reasons.tsx";
import { api, todayPlain } from "../data/client.ts";
import { protocolsQuery, settingsQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { commonWords } from "../strings/common.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RunnerPart } from "./part.ts";
import { stairsOf } from "./stairs.ts";

const words = runnerWords.plan;
const SHOWN_SESSIONS = 4;

interface PlanSectionProps extends RunnerPart {
  readonly answer: CallOutput<"GET /api/runners/:runnerId/plan"> | undefined;
  readonly proposal: ProposalAnswer | undefined;
}

export function PlanSection({ groupId, runner, format, answer, proposal }: PlanSectionProps) {
  const [remaking, setRemaking] = useState(false);
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
      {remaking && <RemakePlan groupId={groupId} runnerId={runner.id} onClose={() => setRemaking(false)} />}
    </section>
  );
}

function PlanBody({ groupId, runner, format, plan }: RunnerPart & { readonly plan: Plan }) {
  const settings = useQuery(settingsQuery(groupId)).data;
  const today = todayPlain();
  const upcoming = plan.sessions.filter((session) => session.on >= today).slice(0, SHOWN_SESSIONS);
  const here = plan.stages[plan.currentStageIndex];
  return (
    <>
      <Fitted maxPx={1080}>
        {(width) => (
          <Staircase
            width={width}
            stairs={stairsOf(plan, format)}
            rateText={(rate) => format.rateValue(rate)}
            title={words.stairTitle}
            description={words.stairIs(
              plan.stages.length,
              plan.currentStageIndex,
              here ? format.rate(here.stepRateSpm) : "",
            )}
            hereWord={words.here}
          />
        )}
      </Fitted>
      {plan.status === "stopped" && <p className="notice">{words.stopped}</p>}
      <p className="muted small">
        {words.total(format.duration(plan.totalCuedMinutes * SECONDS_PER_MINUTE))}.{" "}
        {plan.recallChecks.length > 0 &&
          words.recall(plan.recallChecks.map((check) => format.dateShort(check.on)).join(", "))}
      </p>
      <h3>{words.upcoming}</h3>
      {upcoming.length === 0 ? (
        <p className="muted">{words.noneUpcoming}</p>
      ) : (
        <ul className="lines">
          {upcoming.map((planned) => (
            <li key={planned.id} className="line">
              <span className="line-when">{format.dateShort(planned.on)}</span>
              <span>
                {planned.session.title}{" "}
                <span className="muted small">
                  {planned.inPerson ? words.inPerson : words.onOwn}
                  {`, ${words.minutes(format.number(planned.cuedMinutes), format.duration(planned.mainMinutes * SECONDS_PER_MINUTE))}`}
                </span>
              </span>
              <a
                className="button no-print"
                download
                aria-label={`${words.track}, ${format.dateShort(planned.on)}`}
                href={api.address("GET /api/runners/:runnerId/track", {
                  params: { runnerId: runner.id },
                  query: { sessionId: planned.id, ...(settings ? { format: settings.beatTrackFormat } : {}) },
                })}
              >
                {words.track}
              </a>
            </li>
          ))}
        </ul>
      )}
      <details className="no-print">
        <summary>{words.stageTable}</summary>
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
                <td className="num">{format.rate(stage.stepRateSpm)}</td>
                <td>{format.dateShort(stage.startsOn)}</td>
                <td>{format.dateShort(stage.endsOn)}</td>
                <td>
                  {words.kinds[stage.kind] ?? stage.kind}
                  {stage.loadFrozenUntil !== null && (
                    <span className="muted">, {words.frozen(format.dateShort(stage.loadFrozenUntil))}</span>
                  )}
                </td>
                <td>{stage.index === plan.currentStageIndex && <strong>{words.here}</strong>}</td>
              </tr>
            ))}
          </tbody>
        </table>
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

function RemakePlan({
  groupId,
  runnerId,
  onClose,
}: {
  readonly groupId: string;
  readonly runnerId: string;
  readonly onClose: () => void;
}) {
  const protocols = useQuery(protocolsQuery).data?.items ?? [];
  const [protocolId, setProtocol] = useState("");
  const [startsOn, setStart] = useState(todayPlain());
  const [perWeek, setPerWeek] = useState("3");
  const save = useSave({
    quietErrors: true,
    save: () =>
      api.call("POST /api/runners/:runnerId/plan", {
        params: { runnerId },
        body: { startsOn, sessionsPerWeek: Number(perWeek), ...(protocolId === "" ? {} : { protocolId }) },
      }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: () => words.remade,
    done: onClose,
  });
  const chosen = protocols.find((one) => one.id === protocolId);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save.mutate(undefined);
  };
  return (
    <DeskDialog title={words.remake} open onClose={onClose}>
      <form className="stack" onSubmit={submit}>
        <ProblemList error={save.error} />
        <SelectField
          label={words.protocol}
          hint={chosen ? `${chosen.summary} ${chosen.source}` : undefined}
          value={protocolId}
          onChange={(event) => setProtocol(event.target.value)}
        >
          <option value="">{words.protocolOwn}</option>
          {protocols.map((one) => (
            <option key={one.id} value={one.id}>
              {one.title}
            </option>
          ))}
        </SelectField>
        <div className="form-columns">
          <TextField
            label={words.startsOn}
            type="date"
            required
            value={startsOn}
            onChange={(event) => setStart(event.target.value)}
          />
          <TextField
            label={words.sessionsPerWeek}
            type="number"
            inputMode="numeric"
            min={1}
            max={7}
            required
            value={perWeek}
            onChange={(event) => setPerWeek(event.target.value)}
          />
        </div>
        <div className="row">
          <Button type="submit" kind="go" disabled={save.isPending}>
            {words.remake}
          </Button>
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}
