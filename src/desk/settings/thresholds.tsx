// Every threshold of the rules, with its source, its range and the way back to its default.
import { type FormEvent, useState } from "react";
import type { Settings, SettingsInput } from "../../api/index.ts";
import { allEvidence } from "../../engine/evidence/all.ts";
import { type Setting, type SettingKey, settingTable } from "../../engine/target/settings.ts";
import { Button } from "../../ui/controls/button.tsx";
import { settingsWords as words } from "../strings/programme.ts";
import { shownValue, sourceLine, typedValue, unitText } from "./threshold-model.ts";

const ENTRIES = (Object.entries(settingTable) as [SettingKey, Setting][]).filter(
  ([key]) => key !== "laneToleranceShare",
);

export interface ThresholdsProps {
  readonly settings: Settings;
  readonly busy: boolean;
  readonly onChange: (change: SettingsInput) => void;
}

export function Thresholds({ settings, busy, onChange }: ThresholdsProps) {
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const valueOf = (key: SettingKey, setting: Setting): number => settings.thresholds[key] ?? setting.default;
  const textOf = (key: SettingKey, setting: Setting): string =>
    typed[key] ?? shownValue(setting, valueOf(key, setting));
  const bad = ENTRIES.some(([key, setting]) => typedValue(setting, textOf(key, setting)) === undefined);
  const touched = Object.keys(typed).length > 0;
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (bad) return;
    const changed = ENTRIES.flatMap(([key, setting]) => {
      const value = typedValue(setting, textOf(key, setting));
      return value === undefined || Math.abs(value - setting.default) < 1e-9 ? [] : [[key, value] as const];
    });
    onChange({ thresholds: Object.fromEntries(changed) });
  };
  return (
    <section>
      <h2 className="section-head">{words.rules}</h2>
      <p className="muted">{words.rulesLead}</p>
      <details>
        <summary>{words.rulesShow}</summary>
        <form onSubmit={submit}>
          <table className="table thresholds">
            <thead>
              <tr>
                <th scope="col">{words.column.rule}</th>
                <th scope="col">{words.column.value}</th>
                <th scope="col">{words.column.source}</th>
              </tr>
            </thead>
            <tbody>
              {ENTRIES.map(([key, setting]) => {
                const entry = allEvidence.find((one) => one.id === setting.evidence);
                const value = typedValue(setting, textOf(key, setting));
                const changed = value === undefined || Math.abs(value - setting.default) > 1e-9;
                return (
                  <tr key={key}>
                    <th scope="row">
                      <label htmlFor={`threshold-${key}`}>{setting.label}</label>{" "}
                      <span className="rule-id">{setting.rules.join(" ")}</span>
                    </th>
                    <td className="threshold-value">
                      <input
                        id={`threshold-${key}`}
                        className="input input-number"
                        inputMode="decimal"
                        aria-invalid={value === undefined}
                        aria-describedby={`range-${key}`}
                        value={textOf(key, setting)}
                        onChange={(event) => setTyped({ ...typed, [key]: event.target.value })}
                      />{" "}
                      {unitText(setting)}
                      <span className="field-hint block" id={`range-${key}`}>
                        {words.range(shownValue(setting, setting.low), shownValue(setting, setting.high))}
                        {changed && (
                          <>
                            {", "}
                            <strong>{words.changed}</strong>{" "}
                            <Button
                              kind="quiet"
                              aria-label={`${words.reset}: ${setting.label}`}
                              onClick={() => setTyped({ ...typed, [key]: shownValue(setting, setting.default) })}
                            >
                              {words.resetTo(shownValue(setting, setting.default))}
                            </Button>
                          </>
                        )}
                      </span>
                    </td>
                    <td className="small">
                      <span className="muted">{sourceLine(entry, words.kinds)}.</span> {entry?.note}
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
          <div className="row">
            <Button type="submit" kind="go" disabled={bad || busy || !touched}>
              {words.save}
            </Button>
            <Button
              disabled={busy || Object.keys(settings.thresholds).length === 0}
              onClick={() => onChange({ thresholds: {} })}
            >
              {words.resetAll}
            </Button>
          </div>
        </form>
      </details>
    </section>
  );
}
