// Another target for a stage that has not begun.
import { type FormEvent, useState } from "react";
import { bothFeetSpm, rateForFeet } from "../../engine/quantities/feet.ts";
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { DeskDialog } from "../controls/dialog.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { parseNumber } from "../evening/entry-model.ts";
import { commonWords } from "../strings/common.ts";
import { planWords } from "../strings/plan.ts";

const words = planWords.stage;

interface StageDialogProps {
  readonly groupId: string;
  readonly runnerId: string;
  readonly rung: number;
  readonly stageNumber: number;
  readonly stepRateSpm: number;
  readonly format: Format;
  readonly onClose: () => void;
}

export function StageDialog({ groupId, runnerId, rung, stageNumber, stepRateSpm, format, onClose }: StageDialogProps) {
  const { feet } = format.reading;
  const [rate, setRate] = useState(String(rateForFeet(stepRateSpm, feet)));
  const value = parseNumber(rate);
  const save = useSave({
    quietErrors: true,
    save: (spm: number) =>
      api.call("PUT /api/runners/:runnerId/plan/rungs/:rung", {
        params: { runnerId, rung: String(rung) },
        body: { stepRateSpm: spm },
      }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: () => words.saved,
    done: onClose,
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (value !== undefined) save.mutate(bothFeetSpm({ value, feet }));
  };
  return (
    <DeskDialog title={words.title(stageNumber)} open onClose={onClose}>
      <form className="stack" onSubmit={submit}>
        <ProblemList error={save.error} />
        <TextField
          label={words.rate(format.rateUnit)}
          hint={words.hint}
          inputMode="decimal"
          className="input-number"
          required
          value={rate}
          onChange={(event) => setRate(event.target.value)}
        />
        <div className="row">
          <Button type="submit" kind="go" disabled={value === undefined || save.isPending}>
            {commonWords.save}
          </Button>
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}
