// A holiday, a race or another evening that turns up when the plan already runs.
import { type FormEvent, useState } from "react";
import type { CalendarChange, Plan } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { commonWords } from "../strings/common.ts";
import { planWords as words } from "../strings/plan.ts";
import { CalendarFields, type CalendarForm } from "./calendar-fields.tsx";
import { TemplateSelect } from "./template-select.tsx";

interface CalendarDialogProps {
  readonly groupId: string;
  readonly runnerId: string;
  readonly plan: Plan;
  readonly onClose: () => void;
}

export function CalendarDialog({ groupId, runnerId, plan, onClose }: CalendarDialogProps) {
  const [form, setForm] = useState<CalendarForm>({
    away: plan.away,
    raceDate: plan.raceDate ?? "",
    groupWeekday: plan.groupWeekday === null ? "" : String(plan.groupWeekday),
    perWeek: String(plan.sessionsPerWeek),
  });
  const [weeks, setWeeks] = useState(String(plan.consolidationWeeks));
  const [templateId, setTemplate] = useState("");
  const [groupTemplateId, setGroupTemplate] = useState("");
  const save = useSave({
    quietErrors: true,
    save: (body: CalendarChange) =>
      api.call("PUT /api/runners/:runnerId/plan/calendar", { params: { runnerId }, body }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: () => words.calendarSaid,
    done: onClose,
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const { away, raceDate, groupWeekday, perWeek } = form;
    save.mutate({
      away: away.filter(({ from, to }) => from !== "" && to !== ""),
      raceDate: raceDate === "" ? null : raceDate,
      groupWeekday: groupWeekday === "" ? null : Number(groupWeekday),
      ...(Number(perWeek) === plan.sessionsPerWeek ? {} : { sessionsPerWeek: Number(perWeek) }),
      ...(Number(weeks) === plan.consolidationWeeks ? {} : { consolidationWeeks: Number(weeks) }),
      ...(templateId === "" ? {} : { templateId }),
      ...(groupTemplateId === "" ? {} : { groupTemplateId }),
    });
  };
  return (
    <DeskDialog title={words.calendarTitle} open onClose={onClose} wide>
      <form className="stack" onSubmit={submit}>
        <p className="muted">{words.calendarLead}</p>
        <ProblemList error={save.error} />
        <CalendarFields
          value={form}
          onChange={(change) => setForm((old) => ({ ...old, ...change }))}
          after={
            <>
              {plan.protocolId === null && (
                <TextField
                  label={words.consolidation}
                  type="number"
                  inputMode="numeric"
                  min={0}
                  max={12}
                  required
                  value={weeks}
                  onChange={(event) => setWeeks(event.target.value)}
                />
              )}
              <TemplateSelect
                groupId={groupId}
                label={words.template}
                none={words.session.keepTemplate}
                value={templateId}
                onChange={setTemplate}
              />
              <TemplateSelect
                groupId={groupId}
                label={words.groupTemplate}
                none={words.session.keepTemplate}
                value={groupTemplateId}
                onChange={setGroupTemplate}
              />
            </>
          }
        />
        <div className="row">
          <Button type="submit" kind="go" disabled={save.isPending}>
            {words.changeCalendar}
          </Button>
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}
