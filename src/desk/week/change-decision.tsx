// The coach overrules: one choice, and the reason is kept.
import { type FormEvent, useState } from "react";
import type { DecisionKind, WeekRow } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { TextArea } from "../../ui/controls/field.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { commonWords } from "../strings/common.ts";
import { decisionWords, weekWords } from "../strings/week.ts";
import { DecisionMark } from "./week-line.tsx";
import { reasonRequired } from "./week-model.ts";

const KINDS = Object.keys(decisionWords) as DecisionKind[];

export interface ChangeDecisionProps {
  readonly row: WeekRow;
  readonly onClose: () => void;
  readonly onDecide: (deciding: { row: WeekRow; decision: DecisionKind; reason: string }) => void;
}

export function ChangeDecision({ row, onClose, onDecide }: ChangeDecisionProps) {
  const [decision, setDecision] = useState<DecisionKind>(row.decided?.decision ?? row.proposed?.decision ?? "stay");
  const [reason, setReason] = useState(row.decided?.reason ?? "");
  const needed = reasonRequired(row, decision);
  const ready = !needed || reason.trim().length >= 3;
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (ready) onDecide({ row, decision, reason: reason.trim() });
  };
  return (
    <DeskDialog title={weekWords.changeTitle(row.name)} open onClose={onClose}>
      <form className="stack" onSubmit={submit}>
        <p>{row.evidence}</p>
        <p className="muted">{weekWords.changeLead}</p>
        <fieldset className="options">
          <legend className="visually-hidden">{weekWords.column.decision}</legend>
          {KINDS.map((kind) => (
            <label key={kind} className="check option">
              <input
                type="radio"
                name="decision"
                value={kind}
                checked={decision === kind}
                onChange={() => setDecision(kind)}
              />
              <DecisionMark decision={kind} />
              {row.proposed?.decision === kind && <span className="rule-id">{row.proposed.rule}</span>}
            </label>
          ))}
        </fieldset>
        <TextArea
          label={weekWords.reason}
          hint={needed ? weekWords.reasonNeeded : commonWords.optional}
          required={needed}
          maxLength={1000}
          value={reason}
          onChange={(event) => setReason(event.target.value)}
        />
        <div className="row">
          <Button type="submit" kind="go" disabled={!ready}>
            {weekWords.decide}
          </Button>
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}
