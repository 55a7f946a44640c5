import { Link } from "@tanstack/react-router";
import { useId, useState } from "react";
import type { DecisionKind, WeekRow } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { curved } from "../../ui/words/typography.ts";
import { Reasons } from "../controls/reasons.tsx";
import { decisionShapes, decisionWords, weekWords } from "../strings/week.ts";

export function DecisionMark({ decision }: { readonly decision: DecisionKind }) {
  return (
    <span className={`mark mark-${decision}`}>
      <span className="mark-shape" aria-hidden="true">
        {decisionShapes[decision]}
      </span>
      {decisionWords[decision]}
    </span>
  );
}

export interface WeekLineProps {
  readonly row: WeekRow;
  readonly groupId: string;
  readonly format: Format;
  readonly busy: boolean;
  readonly onConfirm: () => void;
  readonly onChange: () => void;
}

export function WeekLine({ row, groupId, format, busy, onConfirm, onChange }: WeekLineProps) {
  const [open, setOpen] = useState(false);
  const reasonsId = useId();
  const reasons = row.proposed?.reasons ?? [];
  const decision = row.decided?.decision ?? row.proposed?.decision;
  const where = [
    row.targetSpm === null ? "" : weekWords.target(format.beat(row.targetSpm)),
    row.stageIndex === null || row.stageCount === null ? "" : weekWords.stage(row.stageIndex, row.stageCount),
  ].filter(Boolean);
  return (
    <li className={row.decided ? "week-line week-decided" : "week-line"} data-runner={row.runnerId}>
      <div className="week-who">
        <Link to="/g/$groupId/runners/$runnerId" params={{ groupId, runnerId: row.runnerId }} className="week-name">
          {row.name}
        </Link>
        <span className="muted small">{where.join(", ")}</span>
      </div>
      <div className="week-evidence">{curved(row.evidence)} </div>
      <div className="week-decision">
        {decision === undefined ? (
          <span className="muted">{weekWords.none}</span>
        ) : (
          <DecisionMark decision={decision} />
        )}{" "}
        {row.proposed && !row.decided && <span className="rule-id">{row.proposed.rule}</span>}
        {row.decided && (
          <span className="muted small week-by">
            {row.decided.overruled ? weekWords.overruled : weekWords.confirmed}, {row.decided.byName}
            {row.decided.reason !== "" && `: ${row.decided.reason}`}
          </span>
        )}
        {reasons.length > 0 && (
          <Button
            kind="quiet"
            className="week-why no-print"
            aria-label={weekWords.whyOf(row.name)}
            aria-expanded={open}
            aria-controls={reasonsId}
            onClick={() => setOpen(!open)}
          >
            {weekWords.why}
          </Button>
        )}
      </div>
      <div className="week-act no-print">
        {row.proposed && !row.decided && (
          <Button
            disabled={busy}
            aria-label={weekWords.confirmOf(decisionWords[row.proposed.decision], row.name)}
            onClick={onConfirm}
          >
            {weekWords.confirm}
          </Button>
        )}
        {(row.proposed !== null || row.decided !== null) && (
          <Button kind="quiet" aria-label={weekWords.changeOf(row.name)} onClick={onChange}>
            {weekWords.change}
          </Button>
        )}
      </div>
      {open && (
        <div className="week-reasons" id={reasonsId}>
          <Reasons reasons={reasons} />
        </div>
      )}
    </li>
  );
}
