// Pain is logged in three taps, and what the rules make of it is said at once.
import { useQuery } from "@tanstack/react-query";
import { type FormEvent, useState } from "react";
import type { Pain } from "../../api/index.ts";
import { painReferLimit } from "../../engine/evidence/decisions.ts";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField, SelectField, TextField } from "../../ui/controls/field.tsx";
import { api, makeId, nowInstant } from "../data/client.ts";
import { useNotices } from "../data/notices.tsx";
import { post } from "../data/outbox.ts";
import { painQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RunnerPart } from "./part.ts";

const words = runnerWords.pain;
const SIGNS = [
  "sharp-pain",
  "bone-spot",
  "night-pain",
  "rest-pain",
  "limp",
  "swelling",
  "worse-next-morning",
  "worsening-in-run",
] as const;
type Sign = (typeof SIGNS)[number];
const FEW = 6;
const SCORES = Array.from({ length: 11 }, (_, i) => i);

export function PainSection({ groupId, runner, format }: RunnerPart) {
  const entries = useQuery(painQuery(runner.id)).data?.items ?? [];
  const notices = useNotices();
  const [score, setScore] = useState("0");
  const [place, setPlace] = useState("");
  const [signs, setSigns] = useState<ReadonlySet<Sign>>(new Set());
  const remove = useSave({
    save: (entryId: string) =>
      api.call("DELETE /api/runners/:runnerId/pain/:entryId", { params: { runnerId: runner.id, entryId } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.removed,
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const entryId = makeId();
    void post(entryId, "pain", {
      params: { runnerId: runner.id, entryId },
      body: { score: Number(score), place: place.trim(), signs: [...signs], at: nowInstant() },
    }).then(() => notices.say(words.logged));
    setScore("0");
    setPlace("");
    setSigns(new Set());
  };
  const felt = entries.filter((entry) => entry.score > 0 || entry.signs.length > 0);
  const painless = entries.filter((entry) => !felt.includes(entry));
  const refers = signs.size > 0 || Number(score) > painReferLimit.value;
  return (
    <section>
      <h2 className="section-head">{words.heading}</h2>
      {entries.length === 0 ? (
        <p className="muted">{words.empty}</p>
      ) : (
        <>
          <PainLines entries={felt} format={format} onRemove={(id) => remove.mutate(id)} />
          {painless.length > 0 && (
            <details>
              <summary>{words.painless(painless.length, format.dateShort(painless[0]?.at ?? ""))}</summary>
              <PainLines entries={painless} format={format} onRemove={(id) => remove.mutate(id)} />
            </details>
          )}
        </>
      )}
      <details className="no-print">
        <summary>{words.add}</summary>
        <form className="stack inner-form" onSubmit={submit}>
          <div className="form-columns">
            <SelectField label={words.score} value={score} onChange={(event) => setScore(event.target.value)}>
              {SCORES.map((value) => (
                <option key={value} value={value}>
                  {value}
                </option>
              ))}
            </SelectField>
            <TextField
              label={words.place}
              maxLength={120}
              value={place}
              onChange={(event) => setPlace(event.target.value)}
            />
          </div>
          <fieldset className="options">
            <legend className="field-label">{words.signs}</legend>
            {SIGNS.map((sign) => (
              <CheckField
                key={sign}
                label={words.signWords[sign]}
                checked={signs.has(sign)}
                onChange={(event) =>
                  setSigns((old) => {
                    const next = new Set(old);
                    if (event.target.checked) next.add(sign);
                    else next.delete(sign);
                    return next;
                  })
                }
              />
            ))}
          </fieldset>
          {refers && (
            <p className="notice" role="alert">
              {words.refer}
            </p>
          )}
          <div>
            <Button type="submit" kind="go">
              {words.save}
            </Button>
          </div>
        </form>
      </details>
    </section>
  );
}

interface PainLinesProps {
  readonly entries: readonly Pain[];
  readonly format: RunnerPart["format"];
  readonly onRemove: (entryId: string) => void;
}

function PainLines({ entries, format, onRemove }: PainLinesProps) {
  const [all, setAll] = useState(false);
  return (
    <>
      <ul className="lines">
        {entries.slice(0, all ? undefined : FEW).map((entry) => (
          <li key={entry.id} className="line">
            <span className="line-when">{format.dateShort(entry.at)}</span>
            <span>
              {words.value(entry.score, entry.place)}
              {entry.signs.length > 0 && (
                <span className="muted"> {entry.signs.map((sign) => words.signWords[sign] ?? sign).join(", ")}</span>
              )}
              {entry.note !== "" && <span className="muted"> {entry.note}</span>}
            </span>
            <Button
              kind="quiet"
              className="no-print"
              aria-label={`${words.remove}: ${words.value(entry.score, entry.place)}, ${format.dateShort(entry.at)}`}
              onClick={() => onRemove(entry.id)}
            >
              {words.remove}
            </Button>
          </li>
        ))}
      </ul>
      {entries.length > FEW && !all && (
        <Button kind="quiet" className="no-print" onClick={() => setAll(true)}>
          {runnerWords.timeline.showAll}
        </Button>
      )}
    </>
  );
}
