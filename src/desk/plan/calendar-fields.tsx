// When a plan's sessions are: holidays, race, evening and sessions a week. The same fields for a plan and for its changes.
import { TextField } from "../../ui/controls/field.tsx";
import { planWords as words } from "../strings/plan.ts";
import type { ReactNode } from "react";
import { AwayList } from "./away-list.tsx";
import { EveningSelect } from "./evening-select.tsx";

export interface CalendarForm {
  readonly away: readonly { readonly from: string; readonly to: string }[];
  /** "" means no race. */
  readonly raceDate: string;
  /** Day number as text; "" means no group evening. */
  readonly groupWeekday: string;
  readonly perWeek: string;
}

interface CalendarFieldsProps {
  readonly value: CalendarForm;
  readonly onChange: (change: Partial<CalendarForm>) => void;
  /** Fields that belong beside these, before and after them. */
  readonly before?: ReactNode;
  readonly after?: ReactNode;
}

export function CalendarFields({ value, onChange, before, after }: CalendarFieldsProps) {
  return (
    <>
      <AwayList value={value.away} onChange={(away) => onChange({ away })} />
      <div className="form-columns">
        {before}
        <TextField
          label={words.race}
          hint={words.raceHint}
          type="date"
          value={value.raceDate}
          onChange={(event) => onChange({ raceDate: event.target.value })}
        />
        <EveningSelect value={value.groupWeekday} onChange={(groupWeekday) => onChange({ groupWeekday })} />
        <TextField
          label={words.perWeek}
          type="number"
          inputMode="numeric"
          min={1}
          max={6}
          required
          value={value.perWeek}
          onChange={(event) => onChange({ perWeek: event.target.value })}
        />
        {after}
      </div>
    </>
  );
}
