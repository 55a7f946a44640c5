// A plan made anew: its shape, its calendar, its sessions and how the beat goes away.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { type FormEvent, useState } from "react";
import type { Group, Plan, Runner } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextField } from "../../ui/controls/field.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api, todayPlain } from "../data/client.ts";
import { groupQuery, protocolsQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { commonWords } from "../strings/common.ts";
import { planWords as words } from "../strings/plan.ts";
import { runnerWords } from "../strings/runner.ts";
import { CalendarFields } from "./calendar-fields.tsx";
import { type CueChoice, type PlanForm, requestOf } from "./plan-choices.ts";
import { TemplateSelect } from "./template-select.tsx";

interface RemakePlanProps {
  readonly groupId: string;
  readonly runner: Runner;
  readonly plan: Plan | undefined;
  readonly onClose: () => void;
}

export function RemakePlan(props: RemakePlanProps) {
  const group = useQuery(groupQuery(props.groupId)).data;
  return (
    <DeskDialog title={runnerWords.plan.remake} open onClose={props.onClose} wide>
      {group && <Form {...props} group={group} />}
    </DeskDialog>
  );
}

function Form({ groupId, group, runner, plan, onClose }: RemakePlanProps & { readonly group: Group }) {
  const protocols = useQuery(protocolsQuery).data?.items ?? [];
  const evening = plan ? plan.groupWeekday : runner.remote ? null : group.eveningWeekday;
  const [form, setForm] = useState<PlanForm>({
    protocolId: plan?.protocolId ?? "",
    startsOn: todayPlain(),
    perWeek: String(plan?.sessionsPerWeek ?? 3),
    groupWeekday: evening === null ? "" : String(evening),
    raceDate: (plan ? plan.raceDate : (runner.raceDate ?? group.raceDate)) ?? "",
    away: plan?.away ?? [],
    minutesStart: "",
    minutesEnd: "",
    consolidationWeeks: "",
    cue: "usual",
    templateId: plan?.templateId ?? "beat-run",
    groupTemplateId: plan?.groupTemplateId ?? "",
  });
  const set = (change: Partial<PlanForm>): void => setForm((old) => ({ ...old, ...change }));
  const save = useSave({
    quietErrors: true,
    save: () =>
      api.call("POST /api/runners/:runnerId/plan", { params: { runnerId: runner.id }, body: requestOf(form) }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: () => runnerWords.plan.remade,
    done: onClose,
  });
  const chosen = protocols.find((one) => one.id === form.protocolId);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save.mutate(undefined);
  };
  return (
    <form className="stack" onSubmit={submit}>
      <ProblemList error={save.error} />
      <SelectField
        label={runnerWords.plan.protocol}
        hint={chosen ? `${chosen.summary}. ${chosen.source}. ${words.protocolCaution}` : words.caution}
        value={form.protocolId}
        onChange={(event) => set({ protocolId: event.target.value })}
      >
        <option value="">{runnerWords.plan.protocolOwn}</option>
        {protocols.map((one) => (
          <option key={one.id} value={one.id}>
            {one.title}
          </option>
        ))}
      </SelectField>
      <CalendarFields
        value={form}
        onChange={set}
        before={
          <TextField
            label={runnerWords.plan.startsOn}
            type="date"
            required
            value={form.startsOn}
            onChange={(event) => set({ startsOn: event.target.value })}
          />
        }
      />
      <div className="form-columns">
        <TemplateSelect
          groupId={groupId}
          label={words.template}
          value={form.templateId}
          onChange={(templateId) => set({ templateId })}
        />
        <TemplateSelect
          groupId={groupId}
          label={words.groupTemplate}
          none={words.sameTemplate}
          value={form.groupTemplateId}
          onChange={(groupTemplateId) => set({ groupTemplateId })}
        />
      </div>
      {chosen === undefined && (
        <>
          <SelectField
            label={words.cue}
            value={form.cue}
            onChange={(event) => set({ cue: event.target.value as CueChoice })}
          >
            {Object.entries(words.cues).map(([value, text]) => (
              <option key={value} value={value}>
                {text}
              </option>
            ))}
          </SelectField>
          <div className="form-columns">
            <TextField
              label={words.minutesStart}
              inputMode="numeric"
              type="number"
              min={5}
              max={90}
              placeholder="15"
              value={form.minutesStart}
              onChange={(event) => set({ minutesStart: event.target.value })}
            />
            <TextField
              label={words.minutesEnd}
              inputMode="numeric"
              type="number"
              min={5}
              max={90}
              placeholder="30"
              value={form.minutesEnd}
              onChange={(event) => set({ minutesEnd: event.target.value })}
            />
            <TextField
              label={words.consolidation}
              inputMode="numeric"
              type="number"
              min={0}
              max={12}
              placeholder="2"
              value={form.consolidationWeeks}
              onChange={(event) => set({ consolidationWeeks: event.target.value })}
            />
          </div>
        </>
      )}
      <div className="row">
        <Button type="submit" kind="go" disabled={save.isPending}>
          {runnerWords.plan.remake}
        </Button>
        <Button onClick={onClose}>{commonWords.cancel}</Button>
        <Link to="/g/$groupId/practice" params={{ groupId }}>
          {words.practiceLink}
        </Link>
      </div>
    </form>
  );
}
