// A coach's own session, part by part.
import { type FormEvent, useState } from "react";
import type { Practice, Template } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField, TextField } from "../../ui/controls/field.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { commonWords } from "../strings/common.ts";
import { practiceWords as words } from "../strings/hand-outs.ts";
import { moved, newRow, rowsOf, type RowKind, type StepRow, stepsOf, type Unit } from "./template-model.ts";

interface TemplateFormProps {
  readonly groupId: string;
  readonly practice: Practice;
  readonly template: Pick<Template, "id" | "title" | "steps">;
  readonly onClose: () => void;
}

export function TemplateForm({ groupId, practice, template, onClose }: TemplateFormProps) {
  const [title, setTitle] = useState(template.title);
  const [rows, setRows] = useState<readonly StepRow[]>(() => rowsOf(template));
  const save = useSave({
    quietErrors: true,
    save: () =>
      api.call("PUT /api/groups/:groupId/templates/:templateId", {
        params: { groupId, templateId: template.id },
        body: { title: title.trim(), steps: stepsOf(rows) },
      }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: (saved) => words.saved(saved.item.title),
    done: onClose,
  });
  const set = (index: number, change: Partial<StepRow>): void =>
    setRows((old) => old.map((row, place) => (place === index ? { ...row, ...change } : row)));
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save.mutate(undefined);
  };
  return (
    <DeskDialog title={template.title === "" ? words.newTemplate : template.title} open onClose={onClose} wide>
      <form className="stack" onSubmit={submit}>
        <ProblemList error={save.error} />
        <TextField
          label={words.name}
          required
          maxLength={120}
          value={title}
          onChange={(event) => setTitle(event.target.value)}
        />
        <fieldset className="group">
          <legend className="field-label">{words.steps}</legend>
          <p className="field-hint">{words.repeatHint}</p>
          <ol className="parts">
            {rows.map((row, index) => (
              <Part
                key={row.key}
                row={row}
                n={index + 1}
                last={index === rows.length - 1}
                drills={practice.drills}
                onChange={(change) => set(index, change)}
                onMove={(by) => setRows(moved(rows, index, by))}
                onTake={() => setRows(rows.filter((_, place) => place !== index))}
              />
            ))}
          </ol>
          <Button onClick={() => setRows([...rows, newRow(Math.max(0, ...rows.map((row) => row.key)) + 1)])}>
            {words.addPart}
          </Button>
        </fieldset>
        <div className="row">
          <Button type="submit" kind="go" disabled={save.isPending}>
            {commonWords.save}
          </Button>
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}

interface PartProps {
  readonly row: StepRow;
  readonly n: number;
  readonly last: boolean;
  readonly drills: Practice["drills"];
  readonly onChange: (change: Partial<StepRow>) => void;
  readonly onMove: (by: -1 | 1) => void;
  readonly onTake: () => void;
}

function Part({ row, n, last, drills, onChange, onMove, onTake }: PartProps) {
  const takesDrill = row.kind === "drill" || row.kind === "standing-drill";
  return (
    <li className="part">
      <div className="part-kind">
        <select
          className="select"
          aria-label={words.kind(n)}
          value={row.kind}
          onChange={(event) => {
            const kind = event.target.value as RowKind;
            const { beat, drillId } = newRow(0, kind);
            onChange({ kind, beat, drillId: kind === "drill" ? (drills[0]?.id ?? "") : drillId });
          }}
        >
          {Object.entries(words.kinds).map(([value, text]) => (
            <option key={value} value={value}>
              {text}
            </option>
          ))}
        </select>
        <span className="part-moves">
          <Button kind="quiet" aria-label={words.up(n)} disabled={n === 1} onClick={() => onMove(-1)}>
            ↑
          </Button>
          <Button kind="quiet" aria-label={words.down(n)} disabled={last} onClick={() => onMove(1)}>
            ↓
          </Button>
          <Button kind="quiet" aria-label={words.take(n)} onClick={onTake}>
            ×
          </Button>
        </span>
      </div>
      {row.kind !== "main" && (
        <>
          <div className="row">
            <input
              className="input input-number"
              inputMode="decimal"
              aria-label={words.length(n)}
              value={row.length}
              onChange={(event) => onChange({ length: event.target.value })}
            />
            <select
              className="select"
              aria-label={words.unit(n)}
              value={row.unit}
              onChange={(event) => onChange({ unit: event.target.value as Unit })}
            >
              {Object.entries(words.units).map(([value, text]) => (
                <option key={value} value={value}>
                  {text}
                </option>
              ))}
            </select>
            <select
              className="select"
              aria-label={words.beat(n)}
              value={row.beat}
              onChange={(event) => onChange({ beat: event.target.value as StepRow["beat"] })}
            >
              {Object.entries(words.beats).map(([value, text]) => (
                <option key={value} value={value}>
                  {text}
                </option>
              ))}
            </select>
            <label className="part-times">
              <input
                className="input input-number"
                inputMode="numeric"
                aria-label={words.repeat(n)}
                value={row.times}
                onChange={(event) => onChange({ times: event.target.value })}
              />{" "}
              {words.timesLabel}
            </label>
            {takesDrill && (
              <select
                className="select"
                aria-label={words.drill(n)}
                value={row.drillId}
                onChange={(event) => onChange({ drillId: event.target.value })}
              >
                {row.kind === "standing-drill" && <option value="">{words.noDrill}</option>}
                {drills.map((drill) => (
                  <option key={drill.id} value={drill.id}>
                    {drill.name}
                  </option>
                ))}
              </select>
            )}
          </div>
          <input
            className="input"
            aria-label={words.note(n)}
            placeholder={words.notePlaceholder}
            maxLength={400}
            value={row.note}
            onChange={(event) => onChange({ note: event.target.value })}
          />
          <CheckField
            label={words.first}
            checked={row.firstOnly}
            onChange={(event) => onChange({ firstOnly: event.target.checked })}
          />
        </>
      )}
    </li>
  );
}
