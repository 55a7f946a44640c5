// What a coach sees in ten seconds: one tap each, early and late in the run.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { Choice } from "../../ui/controls/choice.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { api, makeId, nowInstant } from "../data/client.ts";
import { useNotices } from "../data/notices.tsx";
import { post } from "../data/outbox.ts";
import { formNotesQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RunnerPart } from "./part.ts";

const words = runnerWords.form;
const SIGNS = ["posture", "shoulders", "arm-swing", "over-stride", "loud-landing"] as const;
type Sign = (typeof SIGNS)[number];

export function formText(note: {
  readonly signs: readonly string[];
  readonly note: string;
  readonly when: string;
}): string {
  const seen =
    note.signs.length === 0 ? words.nothing : note.signs.map((sign) => words.signWords[sign] ?? sign).join(", ");
  return [seen, note.when === "late" ? words.late : words.early, note.note].filter(Boolean).join("; ");
}

export function FormSection({ groupId, runner, format }: RunnerPart) {
  const notes = useQuery(formNotesQuery(runner.id)).data?.items ?? [];
  const notices = useNotices();
  const [when, setWhen] = useState<"early" | "late">("early");
  const [signs, setSigns] = useState<ReadonlySet<Sign>>(new Set());
  const [note, setNote] = useState("");
  const remove = useSave({
    save: (entryId: string) =>
      api.call("DELETE /api/runners/:runnerId/form-notes/:entryId", { params: { runnerId: runner.id, entryId } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.removed,
  });
  const keep = (): void => {
    const entryId = makeId();
    void post(entryId, "form-note", {
      params: { runnerId: runner.id, entryId },
      body: { at: nowInstant(), when, signs: [...signs], note: note.trim() },
    }).then(() => notices.say(words.kept));
    setSigns(new Set());
    setNote("");
  };
  return (
    <section>
      <h2 className="section-head">{words.heading}</h2>
      {notes.length === 0 ? (
        <p className="muted">{words.lead}</p>
      ) : (
        <ul className="lines">
          {notes.slice(0, 6).map((one) => (
            <li key={one.id} className="line">
              <span className="line-when">{format.dateShort(one.at)}</span>
              <span>{formText(one)}</span>
              <Button
                kind="quiet"
                className="no-print"
                aria-label={`${words.remove}: ${formText(one)}`}
                onClick={() => remove.mutate(one.id)}
              >
                {words.remove}
              </Button>
            </li>
          ))}
        </ul>
      )}
      <div className="stack no-print inner-form">
        <fieldset className="row group" aria-label={words.heading}>
          {SIGNS.map((sign) => (
            <Button
              key={sign}
              aria-pressed={signs.has(sign)}
              onClick={() =>
                setSigns((old) => {
                  const next = new Set(old);
                  if (next.has(sign)) next.delete(sign);
                  else next.add(sign);
                  return next;
                })
              }
            >
              {words.signWords[sign]}
            </Button>
          ))}
        </fieldset>
        <div className="row row-end form-note">
          <Choice
            label={words.when}
            labelHidden
            value={when}
            onChange={setWhen}
            options={[
              { value: "early", text: words.early },
              { value: "late", text: words.late },
            ]}
          />
          <TextField
            label={words.note}
            value={note}
            maxLength={400}
            onChange={(event) => setNote(event.target.value)}
          />
          <Button kind="go" onClick={keep}>
            {words.save}
          </Button>
        </div>
      </div>
      <p className="no-print below">
        <Link to="/g/$groupId/runners/$runnerId/video" params={{ groupId, runnerId: runner.id }}>
          {words.clip}
        </Link>
      </p>
    </section>
  );
}
