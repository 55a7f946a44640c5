// How is counted: told before it starts, with what one count of this kind is worth.
import { Choice } from "../../ui/controls/choice.tsx";
import { CheckField, TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { clockWords, entryWords } from "../strings/evening.ts";
import { type CountSetup, expectedErrorSpm } from "./entry-model.ts";

const LENGTHS = [15, 30, 60] as const;
const LEAST_LAP_M = 50;

export interface CountSetupFormProps {
  readonly setup: CountSetup;
  readonly format: Format;
  readonly onChange: (setup: CountSetup) => void;
}

export function CountSetupForm({ setup, format, onChange }: CountSetupFormProps) {
  const error = format.rate(expectedErrorSpm(setup), 1);
  const timed = setup.way === "contacts-in-time";
  return (
    <div className="count-setup stack">
      <Choice
        label={clockWords.way}
        value={setup.way}
        onChange={(way) => onChange({ ...setup, way })}
        options={[
          { value: "contacts-in-time", text: clockWords.wayTime },
          { value: "time-of-contacts", text: clockWords.wayStopwatch },
        ]}
      />
      {timed && (
        <Choice
          label={clockWords.length}
          value={String(setup.seconds)}
          onChange={(seconds) => onChange({ ...setup, seconds: Number(seconds) })}
          options={LENGTHS.map((seconds) => ({ value: String(seconds), text: clockWords.seconds(seconds) }))}
        />
      )}
      <Choice
        label={clockWords.feet}
        value={setup.feet}
        onChange={(feet) => onChange({ ...setup, feet })}
        options={[
          { value: "one", text: clockWords.oneFoot },
          { value: "both", text: clockWords.bothFeet },
        ]}
      />
      <p className="count-error">
        {timed
          ? setup.seconds < 60
            ? clockWords.shortWarning(error)
            : clockWords.error(error)
          : clockWords.stopwatchLead(setup.contacts, error)}{" "}
        <HelpMark topic="countError" />
      </p>
      <details>
        <summary>{`${entryWords.withLaps}, ${entryWords.surface.toLowerCase()}, ${entryWords.cue.toLowerCase()}`}</summary>
        <div className="stack count-more">
          <CheckField
            label={entryWords.withLaps}
            checked={setup.lapLengthM !== undefined}
            onChange={(event) => {
              const { lapLengthM: _gone, ...rest } = setup;
              onChange(event.target.checked ? { ...setup, lapLengthM: 400 } : rest);
            }}
          />
          {setup.lapLengthM !== undefined && (
            <TextField
              label={entryWords.lapLength}
              hint={entryWords.lapHint}
              type="number"
              inputMode="decimal"
              min={LEAST_LAP_M}
              className="input-number"
              value={setup.lapLengthM}
              onChange={(event) => {
                const lapLengthM = Number(event.target.value);
                if (lapLengthM > 0) onChange({ ...setup, lapLengthM });
              }}
            />
          )}
          <Choice
            label={entryWords.surface}
            value={setup.surface}
            onChange={(surface) => onChange({ ...setup, surface })}
            options={[
              { value: "outdoor", text: entryWords.surfaces.outdoor },
              { value: "treadmill", text: entryWords.surfaces.treadmill },
            ]}
          />
          <Choice
            label={entryWords.cue}
            value={setup.cue}
            onChange={(cue) => onChange({ ...setup, cue })}
            options={[
              { value: "none", text: entryWords.cueNone },
              { value: "on", text: entryWords.cueOn },
            ]}
          />
          <Choice
            label={entryWords.purpose}
            value={setup.purpose}
            onChange={(purpose) => onChange({ ...setup, purpose })}
            options={[
              { value: "baseline", text: entryWords.purposeBaseline },
              { value: "check", text: entryWords.purposeCheck },
            ]}
          />
        </div>
      </details>
    </div>
  );
}
