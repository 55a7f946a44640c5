// Whether to change, how far and why; accept as it is, or with the coach's own goal.
import { type FormEvent, useState } from "react";
import type { Proposal, ProposalAnswer, ProposalDecision } from "../../api/index.ts";
import { trimmed } from "../../engine/quantities/display.ts";
import { bothFeetSpm, rateForFeet } from "../../engine/quantities/feet.ts";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextArea, TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { DeskDialog } from "../controls/dialog.tsx";
import { HelpMark } from "../controls/help-mark.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { Reasons } from "../controls/reasons.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { parseNumber } from "../evening/entry-model.ts";
import { commonWords } from "../strings/common.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RunnerPart } from "./part.ts";

const words = runnerWords.proposal;
type Deciding = ProposalDecision;

export function ProposalSection({
  groupId,
  runner,
  format,
  answer,
}: RunnerPart & { readonly answer: ProposalAnswer | undefined }) {
  const [changing, setChanging] = useState(false);
  const save = useSave({
    save: (body: Deciding) =>
      api.call("PUT /api/runners/:runnerId/proposal", { params: { runnerId: runner.id }, body }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: (saved) => (saved.item.accepted?.advice === "change" ? words.said : words.saidAlone),
    done: () => setChanging(false),
  });
  if (!answer) return null;
  const { accepted, computed } = answer;
  const shown = accepted?.proposal ?? computed;
  const measured = computed.advice !== "measure-first";
  return (
    <section>
      <h2 className="section-head">
        {words.heading} <HelpMark topic="target" />
      </h2>
      <>
        <p className="advice">{adviceText(shown, accepted, format)}</p>
        {shown.advice === "change" && shown.stagesSpm.length > 1 && (
          <p>{words.stages(shown.stagesSpm.map((rate) => format.beatValue(rate)).join(", "))}</p>
        )}
        {shown.capSpm !== null && <p className="muted">{words.cap(format.beat(shown.capSpm))}</p>}
        {accepted && (
          <p className="muted">
            {words.accepted(format.date(accepted.at), accepted.byName)}
            {accepted.changedByCoach && ` ${words.changedByCoach}`}
            {accepted.reason !== "" && ` “${accepted.reason}”`}
          </p>
        )}
        {answer.outOfDate && <p className="notice">{words.outOfDate}</p>}
        <details>
          <summary>{words.why}</summary>
          <Reasons reasons={shown.reasons} />
          {shown.cautions.map((caution) => (
            <p key={caution} className="small">
              {caution}
            </p>
          ))}
        </details>
        {shown.paceTable.length > 0 && <PaceTable proposal={shown} format={format} />}
      </>
      {measured && (
        <div className="row no-print">
          {(!accepted || answer.outOfDate) && (
            <Button kind="go" disabled={save.isPending} onClick={() => save.mutate({})}>
              {words.accept}
            </Button>
          )}
          <Button onClick={() => setChanging(true)}>{words.change}</Button>
        </div>
      )}
      {changing && (
        <DeskDialog title={words.changeTitle} open onClose={() => setChanging(false)}>
          <OwnProposal
            shown={shown}
            format={format}
            busy={save.isPending}
            error={save.error}
            onSave={save.mutate}
            onCancel={() => setChanging(false)}
          />
        </DeskDialog>
      )}
    </section>
  );
}

function adviceText(proposal: Proposal, accepted: ProposalAnswer["accepted"], format: Format): string {
  const advice = accepted?.advice ?? proposal.advice;
  if (advice !== "change") return words.advice[advice] ?? advice;
  if (accepted && accepted.targetSpm !== null) return words.changeTo(format.beat(accepted.targetSpm));
  return proposal.aimSpm === null ? (words.advice[advice] ?? advice) : words.changeTo(format.beat(proposal.aimSpm));
}

function PaceTable({ proposal, format }: { readonly proposal: Proposal; readonly format: Format }) {
  return (
    <details>
      <summary>{words.paceTable}</summary>
      <table className="table narrow-table">
        <thead>
          <tr>
            <th scope="col">{words.pace}</th>
            <th scope="col" className="num">
              {words.rate}
            </th>
            <th scope="col" className="num">
              {words.length}
            </th>
          </tr>
        </thead>
        <tbody>
          {proposal.paceTable.map((row) => (
            <tr key={row.speedMps}>
              <th scope="row">{format.speed(row.speedMps)}</th>
              <td className="num">{format.beat(row.stepRateSpm)}</td>
              <td className="num">{format.length(row.stepLengthM)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

interface OwnProposalProps {
  readonly shown: Proposal;
  readonly format: Format;
  readonly busy: boolean;
  readonly error: unknown;
  readonly onSave: (body: Deciding) => void;
  readonly onCancel: () => void;
}

function OwnProposal({ shown, format, busy, error, onSave, onCancel }: OwnProposalProps) {
  const { feet } = format.reading;
  const [advice, setAdvice] = useState<string>(shown.advice);
  const [goal, setGoal] = useState(shown.aimSpm === null ? "" : trimmed(rateForFeet(shown.aimSpm, feet), 2));
  const [pain, setPain] = useState("");
  const [reason, setReason] = useState("");
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const value = parseNumber(goal);
    const painNow = parseNumber(pain);
    onSave({
      advice: advice as NonNullable<Deciding["advice"]>,
      ...(advice === "change" && value !== undefined ? { targetSpm: bothFeetSpm({ value, feet }) } : {}),
      ...(painNow === undefined ? {} : { painNow }),
      ...(reason.trim() === "" ? {} : { reason: reason.trim() }),
    });
  };
  return (
    <form className="stack" onSubmit={submit}>
      <ProblemList error={error} />
      <SelectField label={words.heading} value={advice} onChange={(event) => setAdvice(event.target.value)}>
        {Object.entries(words.advice)
          .filter(([value]) => value !== "measure-first")
          .map(([value, text]) => (
            <option key={value} value={value}>
              {text}
            </option>
          ))}
      </SelectField>
      {advice === "change" && (
        <TextField
          label={`${words.ownGoal}, ${format.rateUnit}`}
          hint={words.ownGoalHint}
          inputMode="decimal"
          required
          value={goal}
          onChange={(event) => setGoal(event.target.value)}
        />
      )}
      <TextField
        label={words.painNow}
        inputMode="numeric"
        value={pain}
        onChange={(event) => setPain(event.target.value)}
      />
      <TextArea label={words.reason} value={reason} onChange={(event) => setReason(event.target.value)} />
      <div className="row">
        <Button type="submit" kind="go" disabled={busy}>
          {words.accept}
        </Button>
        <Button onClick={onCancel}>{commonWords.cancel}</Button>
      </div>
    </form>
  );
}
