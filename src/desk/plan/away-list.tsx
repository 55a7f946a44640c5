// Days away as ranges, one line each.
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { planWords as words } from "../strings/plan.ts";

export interface Away {
  readonly from: string;
  readonly to: string;
}

export function AwayList({
  value,
  onChange,
}: {
  readonly value: readonly Away[];
  readonly onChange: (value: Away[]) => void;
}) {
  const set = (index: number, change: Partial<Away>): void =>
    onChange(value.map((range, place) => (place === index ? { ...range, ...change } : range)));
  return (
    <fieldset className="group stack">
      <legend className="field-label">{words.away}</legend>
      {value.map((range, index) => (
        // The place in the list is the only name a range has.
        // oxlint-disable-next-line react/no-array-index-key
        <div key={index} className="row row-end">
          <TextField
            label={words.awayFrom(index + 1)}
            type="date"
            required
            value={range.from}
            onChange={(event) =>
              set(index, { from: event.target.value, ...(range.to === "" ? { to: event.target.value } : {}) })
            }
          />
          <TextField
            label={words.awayTo(index + 1)}
            type="date"
            required
            min={range.from}
            value={range.to}
            onChange={(event) => set(index, { to: event.target.value })}
          />
          <Button
            aria-label={words.awayRemove(index + 1)}
            onClick={() => onChange(value.filter((_, place) => place !== index))}
          >
            ×
          </Button>
        </div>
      ))}
      <div>
        <Button onClick={() => onChange([...value, { from: "", to: "" }])}>{words.awayAdd}</Button>
      </div>
    </fieldset>
  );
}
