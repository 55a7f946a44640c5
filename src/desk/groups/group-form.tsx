// A group's dates: for a new one in a dialog, for an old one on the settings page.
import { useNavigate } from "@tanstack/react-router";
import { type FormEvent, useState } from "react";
import type { Group, GroupInput } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextArea, TextField } from "../../ui/controls/field.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api, makeId, todayPlain } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { weekdayOf } from "../shell/programme-week.ts";
import { commonWords } from "../strings/common.ts";
import { groupWords } from "../strings/groups.ts";

const words = groupWords.form;

export function GroupFormDialog({ open, onClose }: { readonly open: boolean; readonly onClose: () => void }) {
  const navigate = useNavigate();
  const [id, setId] = useState(makeId);
  const save = useSave({
    quietErrors: true,
    save: (body: GroupInput) => api.call("PUT /api/groups/:groupId", { params: { groupId: id }, body }),
    said: (_, body) => words.created(body.name),
    done: () => {
      onClose();
      setId(makeId());
      void navigate({ to: "/g/$groupId/runners", params: { groupId: id } });
    },
  });
  return (
    <DeskDialog title={groupWords.newGroup} open={open} onClose={onClose}>
      <GroupForm
        busy={save.isPending}
        error={save.error}
        action={words.create}
        onSave={save.mutate}
        onCancel={onClose}
      />
    </DeskDialog>
  );
}

export interface GroupFormProps {
  readonly group?: Group;
  readonly busy: boolean;
  readonly error: unknown;
  readonly action: string;
  readonly onSave: (input: GroupInput) => void;
  readonly onCancel?: () => void;
}

export function GroupForm({ group, busy, error, action, onSave, onCancel }: GroupFormProps) {
  const [form, setForm] = useState({
    name: group?.name ?? "",
    startsOn: group?.startsOn ?? todayPlain(),
    weeks: String(group?.weeks ?? 10),
    eveningWeekday: String(group?.eveningWeekday ?? weekdayOf(todayPlain())),
    raceDate: group?.raceDate ?? "",
    holidays: group?.holidays.join("\n") ?? "",
    note: group?.note ?? "",
  });
  const set = (field: keyof typeof form) => (event: { target: { value: string } }) =>
    setForm((old) => ({ ...old, [field]: event.target.value }));
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const holidays = form.holidays.split(/[\s,;]+/).filter((day) => day !== "");
    onSave({
      name: form.name.trim(),
      startsOn: form.startsOn,
      weeks: Number(form.weeks),
      eveningWeekday: Number(form.eveningWeekday),
      timeZone: group?.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
      holidays,
      ...(form.raceDate === "" ? {} : { raceDate: form.raceDate }),
      note: form.note,
      archived: group?.archived ?? false,
    });
  };
  return (
    <form className="stack" onSubmit={submit}>
      <ProblemList error={error} />
      <TextField label={words.name} required maxLength={120} value={form.name} onChange={set("name")} />
      <div className="form-columns">
        <TextField label={words.startsOn} type="date" required value={form.startsOn} onChange={set("startsOn")} />
        <TextField
          label={words.weeks}
          type="number"
          inputMode="numeric"
          min={1}
          max={52}
          required
          value={form.weeks}
          onChange={set("weeks")}
        />
        <SelectField label={words.evening} value={form.eveningWeekday} onChange={set("eveningWeekday")}>
          {groupWords.weekdays.map((day, i) => (
            <option key={day} value={i + 1}>
              {day}
            </option>
          ))}
        </SelectField>
        <TextField
          label={words.raceDate}
          hint={words.raceHint}
          type="date"
          value={form.raceDate}
          onChange={set("raceDate")}
        />
      </div>
      <TextArea
        label={words.holidays}
        hint={words.holidaysHint}
        rows={2}
        value={form.holidays}
        onChange={set("holidays")}
      />
      <TextArea label={words.note} rows={2} value={form.note} onChange={set("note")} />
      <div className="row">
        <Button type="submit" kind="go" disabled={busy}>
          {action}
        </Button>
        {onCancel && <Button onClick={onCancel}>{commonWords.cancel}</Button>}
      </div>
    </form>
  );
}
