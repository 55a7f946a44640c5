import { useQuery } from "@tanstack/react-query";
import { useNavigate } from "@tanstack/react-router";
import { type FormEvent, useState } from "react";
import type { Runner, RunnerInput } from "../../api/index.ts";
import { bothFeetSpm, rateForFeet } from "../../engine/quantities/feet.ts";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField, TextArea, TextField } from "../../ui/controls/field.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api, makeId } from "../data/client.ts";
import { settingsQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { parseNumber } from "../evening/entry-model.ts";
import { commonWords } from "../strings/common.ts";
import { rosterWords, runnerFormWords as words } from "../strings/groups.ts";
import { heightText, parseHeight } from "./height.ts";
import { inputOf } from "./runner-input.ts";

const HISTORY = ["bone", "achilles", "calf"] as const;

export function RunnerFormDialog({
  groupId,
  runner,
  onClose,
}: {
  readonly groupId: string;
  readonly runner?: Runner;
  readonly onClose: () => void;
}) {
  const settings = useQuery(settingsQuery(groupId)).data;
  const navigate = useNavigate();
  const [id] = useState(() => runner?.id ?? makeId());
  const unit = settings?.heightUnit ?? "cm";
  const feet = settings?.feetShown ?? "both";
  const [form, setForm] = useState({
    name: runner?.name ?? "",
    initials: runner?.initials ?? "",
    height: heightText(runner?.heightM ?? null, unit),
    leg: runner === undefined || runner.legLengthM === null ? "" : String(Math.round(runner.legLengthM * 100)),
    mass: runner === undefined || runner.massKg === null ? "" : String(runner.massKg),
    goal: runner === undefined || runner.goalSpm === null ? "" : String(rateForFeet(runner.goalSpm, feet)),
    raceDate: runner?.raceDate ?? "",
    notes: runner?.notes ?? "",
  });
  const [history, setHistory] = useState<ReadonlySet<string>>(new Set(runner?.history ?? []));
  const [remote, setRemote] = useState(runner?.remote ?? false);
  const set = (field: keyof typeof form) => (event: { target: { value: string } }) =>
    setForm((old) => ({ ...old, [field]: event.target.value }));
  const save = useSave({
    quietErrors: true,
    save: (body: RunnerInput) =>
      api.call("PUT /api/groups/:groupId/runners/:runnerId", { params: { groupId, runnerId: id }, body }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (answer) => (runner ? rosterWords.changed(answer.item.name) : rosterWords.added(answer.item.name)),
    done: () => {
      onClose();
      if (!runner) void navigate({ to: "/g/$groupId/runners/$runnerId", params: { groupId, runnerId: id } });
    },
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const heightM = parseHeight(form.height, unit);
    const legCm = parseNumber(form.leg);
    const massKg = parseNumber(form.mass);
    const goal = parseNumber(form.goal);
    const kept = runner ? inputOf(runner) : {};
    const { heightM: _h, legLengthM: _l, massKg: _m, goalSpm: _g, raceDate: _r, ...rest } = kept as RunnerInput;
    save.mutate({
      ...rest,
      name: form.name.trim(),
      ...(form.initials.trim() === "" ? {} : { initials: form.initials.trim() }),
      ...(heightM === undefined ? {} : { heightM }),
      ...(legCm === undefined ? {} : { legLengthM: legCm / 100 }),
      ...(massKg === undefined ? {} : { massKg }),
      ...(goal === undefined ? {} : { goalSpm: bothFeetSpm({ value: goal, feet }) }),
      ...(form.raceDate === "" ? {} : { raceDate: form.raceDate }),
      history: HISTORY.filter((one) => history.has(one)),
      remote,
      notes: form.notes,
    });
  };
  return (
    <DeskDialog title={runner?.name ?? words.newTitle} open onClose={onClose} wide>
      <form className="stack" onSubmit={submit}>
        <ProblemList error={save.error} />
        <div className="form-columns">
          <TextField
            label={words.name}
            required
            maxLength={120}
            autoComplete="off"
            value={form.name}
            onChange={set("name")}
          />
          <TextField
            label={words.initials}
            maxLength={6}
            autoComplete="off"
            value={form.initials}
            onChange={set("initials")}
          />
          <TextField label={words.raceDate} type="date" value={form.raceDate} onChange={set("raceDate")} />
          <TextField
            label={unit === "cm" ? words.heightCm : words.heightFt}
            hint={unit === "cm" ? words.heightHint : words.heightFtHint}
            inputMode="decimal"
            value={form.height}
            onChange={set("height")}
          />
          <TextField label={words.legLengthCm} inputMode="decimal" value={form.leg} onChange={set("leg")} />
          <TextField
            label={words.massKg}
            hint={words.massHint}
            inputMode="decimal"
            value={form.mass}
            onChange={set("mass")}
          />
          <TextField
            label={`${words.goal}, ${feet === "one" ? "per foot" : "spm"}`}
            hint={words.goalHint}
            inputMode="decimal"
            value={form.goal}
            onChange={set("goal")}
          />
        </div>
        <fieldset className="options">
          <legend className="field-label">{words.history}</legend>
          {HISTORY.map((one) => (
            <CheckField
              key={one}
              label={words.historyOptions[one]}
              checked={history.has(one)}
              onChange={(event) =>
                setHistory((old) => {
                  const next = new Set(old);
                  if (event.target.checked) next.add(one);
                  else next.delete(one);
                  return next;
                })
              }
            />
          ))}
          <p className="field-hint">{words.historyHint}</p>
        </fieldset>
        <CheckField label={words.remote} checked={remote} onChange={(event) => setRemote(event.target.checked)} />
        <TextArea label={words.notes} value={form.notes} onChange={set("notes")} />
        <div className="row">
          <Button type="submit" kind="go" disabled={save.isPending}>
            {words.save}
          </Button>
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}
