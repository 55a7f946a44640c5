// How much it hurts, where, and the signs at which nobody runs on.
import { painEaseLimit, painReferLimit } from "../../engine/evidence/decisions.ts";
import { type RedFlag, redFlags } from "../../engine/target/red-flags.ts";
import { Rating } from "./rating.tsx";

export interface PainEntry {
  readonly score: number | undefined;
  readonly place: string;
  readonly signs: readonly RedFlag[];
}

export const NO_PAIN_SAID: PainEntry = { score: undefined, place: "", signs: [] };

const places = ["Foot", "Achilles", "Calf", "Shin", "Knee", "Thigh", "Hip", "Back"] as const;
const flags = Object.keys(redFlags) as readonly RedFlag[];

export interface PainFormProps {
  readonly label: string;
  readonly entry: PainEntry;
  readonly onChange: (entry: PainEntry) => void;
}

export function PainForm({ label, entry, onChange }: PainFormProps) {
  const hurts = (entry.score ?? 0) > 0;
  return (
    <>
      <Rating
        label={label}
        low="nothing"
        high="worst there is"
        value={entry.score}
        onChange={(score) => onChange({ ...entry, score })}
      />
      {hurts ? (
        <>
          <fieldset className="picks">
            <legend>Where</legend>
            <div className="picks-grid">
              {places.map((place) => (
                <label key={place} className="pick">
                  <input
                    type="radio"
                    name="pain-place"
                    checked={entry.place === place}
                    onChange={() => onChange({ ...entry, place })}
                  />
                  <span>{place}</span>
                </label>
              ))}
            </div>
            <label className="line-field">
              <span>Or in your words</span>
              <input
                className="input"
                maxLength={120}
                value={entry.place}
                onChange={(event) => onChange({ ...entry, place: event.currentTarget.value })}
              />
            </label>
          </fieldset>
          <fieldset className="picks">
            <legend>Is it any of these?</legend>
            {flags.map((flag) => (
              <label key={flag} className="check">
                <input
                  type="checkbox"
                  checked={entry.signs.includes(flag)}
                  onChange={(event) =>
                    onChange({
                      ...entry,
                      signs: event.currentTarget.checked
                        ? [...entry.signs, flag]
                        : entry.signs.filter((one) => one !== flag),
                    })
                  }
                />
                <span>{capital(redFlags[flag])}</span>
              </label>
            ))}
          </fieldset>
        </>
      ) : null}
      <PainAdvice entry={entry} />
    </>
  );
}

/** Rules D1 and D2, at once and not only when the coach looks. */
export function PainAdvice({ entry }: { readonly entry: PainEntry }) {
  const advice = painAdvice(entry);
  if (advice === undefined) return null;
  return (
    <div className="note strong" role="alert">
      <p>{advice}</p>
    </div>
  );
}

export function painAdvice({ score, signs }: PainEntry): string | undefined {
  const hurts = score ?? 0;
  if (hurts === 0) return undefined;
  if (hurts > painReferLimit.value || signs.length > 0)
    return "Stop running for now. Tell your coach, and see a doctor or physiotherapist before you run again.";
  if (hurts >= painEaseLimit.value)
    return "Take it easier and wait a day before you run again. If it is still there tomorrow or grows, stop and tell your coach.";
  return "Watch it. If it grows or is there tomorrow morning, do not run; tell your coach.";
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
