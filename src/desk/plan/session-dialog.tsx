// One session changed by hand: another day, other minutes, more or less beat, another template, or out.
import { type FormEvent, useState } from "react";
import type { Plan, SessionEdit } from "../../api/index.ts";
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
import { TemplateSelect } from "./template-select.tsx";

const words = planWords.session;
type Planned = Plan["sessions"][number];

interface SessionDialogProps {
  readonly groupId: string;
  readonly runnerId: string;
  readonly plan: Plan;
  readonly planned: Planned;
  readonly format: Format;
  readonly onClose: () => void;
}

export function SessionDialog({ groupId, runnerId, plan, planned, format, onClose }: SessionDialogProps) {
  const stage = plan.stages.find((entry) => entry.index === planned.stageIndex);
  const minutesNow = String(Math.round(planned.mainMinutes * 10) / 10);
  const shareNow = String(Math.round(planned.cueShare * 100));
  const [day, setDay] = useState(planned.on);
  const [minutes, setMinutes] = useState(minutesNow);
  const [share, setShare] = useState(shareNow);
  const [templateId, setTemplate] = useState("");
  const save = useSave({
    quietErrors: true,
    save: (body: SessionEdit) =>
      api.call("PUT /api/runners/:runnerId/plan/sessions/:on", { params: { runnerId, on: planned.on }, body }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: (_, body) => (body.skipped === true ? words.skipped : body.reset === true ? words.resetSaid : words.saved),
    done: onClose,
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const mainMinutes = parseNumber(minutes);
    const percent = parseNumber(share);
    save.mutate({
      ...(day === planned.on ? {} : { moveTo: day }),
      ...(minutes === minutesNow || mainMinutes === undefined ? {} : { mainMinutes }),
      ...(share === shareNow || percent === undefined ? {} : { cueShare: percent / 100 }),
      ...(templateId === "" ? {} : { templateId }),
    });
  };
  const frozen = stage && stage.loadFrozenUntil !== null && planned.on <= stage.loadFrozenUntil;
  return (
    <DeskDialog title={words.title(format.date(planned.on))} open onClose={onClose}>
      <form className="stack" onSubmit={submit}>
        <ProblemList error={save.error} />
        <div className="form-columns">
          <TextField
            label={words.day}
            {...(stage
              ? {
                  min: stage.startsOn,
                  max: stage.endsOn,
                  hint: words.dayHint(format.dateShort(stage.startsOn), format.dateShort(stage.endsOn)),
                }
              : {})}
            type="date"
            required
            value={day}
            onChange={(event) => setDay(event.target.value)}
          />
          <TextField
            label={words.minutes}
            {...(frozen ? { hint: words.frozen(format.dateShort(stage.loadFrozenUntil ?? "")) } : {})}
            inputMode="decimal"
            required
            value={minutes}
            onChange={(event) => setMinutes(event.target.value)}
          />
          <TextField
            label={words.cue}
            inputMode="numeric"
            required
            value={share}
            onChange={(event) => setShare(event.target.value)}
          />
          <TemplateSelect
            groupId={groupId}
            label={words.template}
            none={words.keepTemplate}
            value={templateId}
            onChange={setTemplate}
          />
        </div>
        <div className="row">
          <Button type="submit" kind="go" disabled={save.isPending}>
            {commonWords.save}
          </Button>
          <Button disabled={save.isPending} onClick={() => save.mutate({ skipped: true })}>
            {words.skip}
          </Button>
          {planned.editedFrom !== null && (
            <Button disabled={save.isPending} onClick={() => save.mutate({ reset: true })}>
              {words.reset}
            </Button>
          )}
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}
