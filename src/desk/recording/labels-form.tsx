// The coach's labels: before or after, what to leave out, where the beat played. The run is read anew when they change.
import { useNavigate } from "@tanstack/react-router";
import { type FormEvent, useState } from "react";
import type { Recording, RecordingEdit } from "../../api/index.ts";
import { bothFeetSpm, rateForFeet } from "../../engine/quantities/feet.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Choice } from "../../ui/controls/choice.tsx";
import { CheckField, SelectField, TextArea, TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { parseNumber } from "../evening/entry-model.ts";
import { recordingWords as words } from "../strings/recording.ts";
import { runnerWords } from "../strings/runner.ts";
import { minutesText, parseMinutes } from "./minutes.ts";

interface BlockText {
  readonly key: number;
  readonly start: string;
  readonly end: string;
  readonly cue: "on" | "off";
  readonly target: string;
}

export interface LabelsFormProps {
  readonly groupId: string;
  readonly recording: Recording;
  readonly format: Format;
}

export function LabelsForm({ groupId, recording, format }: LabelsFormProps) {
  const navigate = useNavigate();
  const { feet } = format.reading;
  const [phase, setPhase] = useState(recording.phase);
  const [surface, setSurface] = useState(recording.surface);
  const [excluded, setExcluded] = useState(recording.excluded);
  const [form, setForm] = useState({
    reason: recording.excludedReason,
    trimStart: minutesText(recording.trimStartS),
    trimEnd: recording.trimEndS === null ? "" : minutesText(recording.trimEndS),
    effort: recording.effortRating === null ? "" : String(recording.effortRating),
    note: recording.note,
  });
  const [blocks, setBlocks] = useState<readonly BlockText[]>(() =>
    recording.cueBlocks.map((block, key) => ({
      key,
      start: minutesText(block.startS),
      end: minutesText(block.endS),
      cue: block.cue,
      target: block.targetSpm === undefined ? "" : String(rateForFeet(block.targetSpm, feet)),
    })),
  );
  const set = (field: keyof typeof form) => (event: { target: { value: string } }) =>
    setForm((old) => ({ ...old, [field]: event.target.value }));
  const params = { runnerId: recording.runnerId, recordingId: recording.id };
  const save = useSave({
    quietErrors: true,
    save: (body: RecordingEdit) => api.call("PATCH /api/runners/:runnerId/recordings/:recordingId", { params, body }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.saved,
  });
  const remove = useSave({
    save: () => api.call("DELETE /api/runners/:runnerId/recordings/:recordingId", { params }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.removed,
    done: () =>
      void navigate({ to: "/g/$groupId/runners/$runnerId", params: { groupId, runnerId: recording.runnerId } }),
  });
  const trimStartS = form.trimStart.trim() === "" ? 0 : parseMinutes(form.trimStart);
  const trimEndS = form.trimEnd.trim() === "" ? null : parseMinutes(form.trimEnd);
  const readBlocks = blocks.map((block) => ({
    startS: parseMinutes(block.start),
    endS: parseMinutes(block.end),
    cue: block.cue,
    targetSpm: parseNumber(block.target),
  }));
  const badBlock = readBlocks.some(
    (block) => block.startS === undefined || block.endS === undefined || block.endS <= block.startS,
  );
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (trimStartS === undefined || trimEndS === undefined || badBlock) return;
    const effort = parseNumber(form.effort);
    save.mutate({
      phase,
      surface,
      excluded,
      excludedReason: form.reason,
      trimStartS,
      trimEndS,
      effortRating: effort === undefined ? null : Math.round(effort),
      note: form.note,
      cueBlocks: readBlocks.flatMap(({ startS, endS, cue, targetSpm }) =>
        startS === undefined || endS === undefined
          ? []
          : [
              {
                startS,
                endS,
                cue,
                ...(targetSpm === undefined ? {} : { targetSpm: bothFeetSpm({ value: targetSpm, feet }) }),
              },
            ],
      ),
    });
  };
  const changeBlock = (key: number, change: Partial<BlockText>): void =>
    setBlocks((all) => all.map((block) => (block.key === key ? { ...block, ...change } : block)));
  return (
    <section className="no-print">
      <h2 className="section-head">{words.edit}</h2>
      <form className="stack" onSubmit={submit}>
        <ProblemList error={save.error} />
        <div className="row row-end">
          <Choice
            label={words.phase}
            value={phase}
            onChange={setPhase}
            options={(["before", "during", "after", "unsorted"] as const).map((value) => ({
              value,
              text: runnerWords.recordings.phases[value] ?? value,
            }))}
          />
          <SelectField
            label={words.surface}
            value={surface}
            onChange={(event) => setSurface(event.target.value as typeof surface)}
          >
            {Object.entries(words.surfaces).map(([value, text]) => (
              <option key={value} value={value}>
                {text}
              </option>
            ))}
          </SelectField>
        </div>
        <div className="form-columns">
          <TextField
            label={words.trimStart}
            value={form.trimStart}
            onChange={set("trimStart")}
            error={trimStartS === undefined ? words.badTime : undefined}
          />
          <TextField
            label={words.trimEnd}
            hint={words.trimHint}
            value={form.trimEnd}
            onChange={set("trimEnd")}
            error={trimEndS === undefined ? words.badTime : undefined}
          />
          <TextField label={words.effort} inputMode="numeric" value={form.effort} onChange={set("effort")} />
        </div>
        <CheckField label={words.exclude} checked={excluded} onChange={(event) => setExcluded(event.target.checked)} />
        {excluded && (
          <TextField label={words.excludeReason} maxLength={400} value={form.reason} onChange={set("reason")} />
        )}
        <fieldset className="options">
          <legend className="field-label">{words.blocks}</legend>
          <p className="field-hint">{words.blocksLead}</p>
          {blocks.map((block, i) => (
            <div key={block.key} className="row row-end block-row">
              <TextField
                label={words.block.start}
                value={block.start}
                error={parseMinutes(block.start) === undefined ? words.badTime : undefined}
                onChange={(event) => changeBlock(block.key, { start: event.target.value })}
              />
              <TextField
                label={words.block.end}
                value={block.end}
                error={parseMinutes(block.end) === undefined ? words.badTime : undefined}
                onChange={(event) => changeBlock(block.key, { end: event.target.value })}
              />
              <SelectField
                label={words.block.cue}
                value={block.cue}
                onChange={(event) => changeBlock(block.key, { cue: event.target.value as "on" | "off" })}
              >
                <option value="on">{words.block.on}</option>
                <option value="off">{words.block.off}</option>
              </SelectField>
              <TextField
                label={`${words.block.target}, ${format.rateUnit}`}
                inputMode="decimal"
                value={block.target}
                onChange={(event) => changeBlock(block.key, { target: event.target.value })}
              />
              <Button
                kind="quiet"
                aria-label={words.removeBlock(i + 1)}
                onClick={() => setBlocks((all) => all.filter((one) => one.key !== block.key))}
              >
                ×
              </Button>
            </div>
          ))}
          <div>
            <Button
              onClick={() =>
                setBlocks((all) => [
                  ...all,
                  {
                    key: 1 + Math.max(-1, ...all.map((one) => one.key)),
                    start: all.at(-1)?.end ?? "0:00",
                    end: "",
                    cue: all.at(-1)?.cue === "on" ? "off" : "on",
                    target: "",
                  },
                ])
              }
            >
              {words.addBlock}
            </Button>
          </div>
        </fieldset>
        <TextArea label={words.note} rows={2} value={form.note} onChange={set("note")} />
        <div className="row">
          <Button type="submit" kind="go" disabled={save.isPending}>
            {words.save}
          </Button>
          <a
            className="button"
            download={recording.fileName}
            href={api.address("GET /api/runners/:runnerId/recordings/:recordingId/file", { params })}
          >
            {words.file}
          </a>
          <Button disabled={remove.isPending} onClick={() => remove.mutate(undefined)}>
            {words.remove}
          </Button>
        </div>
      </form>
    </section>
  );
}
