import { type FormEvent, useState } from "react";
import type { Drill } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField, TextArea, TextField } from "../../ui/controls/field.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { parseNumber } from "../evening/entry-model.ts";
import { commonWords } from "../strings/common.ts";
import { practiceWords as words } from "../strings/hand-outs.ts";

interface DrillFormProps {
  readonly groupId: string;
  readonly drill: Omit<Drill, "own">;
  readonly onClose: () => void;
}

export function DrillForm({ groupId, drill, onClose }: DrillFormProps) {
  const [form, setForm] = useState({
    name: drill.name,
    howTo: drill.howTo,
    minutes: String(drill.minutes),
    whatToFeel: drill.whatToFeel,
    cautions: drill.cautions.join("\n"),
    standing: drill.standing,
  });
  const set = (field: keyof typeof form) => (event: { target: { value: string } }) =>
    setForm((old) => ({ ...old, [field]: event.target.value }));
  const save = useSave({
    quietErrors: true,
    save: () =>
      api.call("PUT /api/groups/:groupId/drills/:drillId", {
        params: { groupId, drillId: drill.id },
        body: {
          ...form,
          name: form.name.trim(),
          minutes: parseNumber(form.minutes) ?? 0,
          cautions: form.cautions.split("\n").filter((line) => line.trim() !== ""),
        },
      }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: (saved) => words.saved(saved.item.name),
    done: onClose,
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save.mutate(undefined);
  };
  return (
    <DeskDialog title={drill.name === "" ? words.newDrill : drill.name} open onClose={onClose}>
      <form className="stack" onSubmit={submit}>
        <ProblemList error={save.error} />
        <TextField label={words.name} required maxLength={120} value={form.name} onChange={set("name")} />
        <TextArea label={words.howTo} required value={form.howTo} onChange={set("howTo")} />
        <TextArea label={words.feel} rows={2} value={form.whatToFeel} onChange={set("whatToFeel")} />
        <TextArea label={words.cautions} required rows={2} value={form.cautions} onChange={set("cautions")} />
        <div className="row row-end">
          <TextField
            label={words.minutes}
            inputMode="decimal"
            className="input-number"
            required
            value={form.minutes}
            onChange={set("minutes")}
          />
          <CheckField
            label={words.standing}
            checked={form.standing}
            onChange={(event) => setForm((old) => ({ ...old, standing: event.target.checked }))}
          />
        </div>
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
