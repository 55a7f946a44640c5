import { SelectField } from "../../ui/controls/field.tsx";
import { groupWords } from "../strings/groups.ts";
import { planWords as words } from "../strings/plan.ts";

/** 1 Monday to 7 Sunday as text; "" for none. */
export function EveningSelect({
  value,
  onChange,
}: {
  readonly value: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <SelectField label={words.evening} value={value} onChange={(event) => onChange(event.target.value)}>
      <option value="">{words.noEvening}</option>
      {groupWords.weekdays.map((day, index) => (
        <option key={day} value={index + 1}>
          {day}
        </option>
      ))}
    </SelectField>
  );
}
