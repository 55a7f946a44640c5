// A few choices side by side, one of them taken.
import { useId } from "react";

export interface ChoiceRowProps<Value extends string> {
  readonly label: string;
  readonly value: Value | undefined;
  readonly options: readonly (readonly [Value, string])[];
  readonly onChange: (value: Value) => void;
}

export function ChoiceRow<Value extends string>({ label, value, options, onChange }: ChoiceRowProps<Value>) {
  const id = useId();
  return (
    <fieldset className="picks">
      <legend>{label}</legend>
      <div className="picks-row">
        {options.map(([key, words]) => (
          <label key={key} className="pick">
            <input type="radio" name={id} checked={key === value} onChange={() => onChange(key)} />
            <span>{words}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
