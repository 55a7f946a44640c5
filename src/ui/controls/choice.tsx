// A few options side by side, one chosen: radio buttons in a row.
import { useId } from "react";

export interface ChoiceProps<Value extends string> {
  readonly label: string;
  /** Hide the label when the options speak for themselves; it stays for screen readers. */
  readonly labelHidden?: boolean;
  readonly value: Value;
  readonly options: readonly { readonly value: Value; readonly text: string }[];
  readonly onChange: (value: Value) => void;
}

export function Choice<Value extends string>({ label, labelHidden, value, options, onChange }: ChoiceProps<Value>) {
  const name = useId();
  return (
    <div className="field" role="radiogroup" aria-labelledby={`${name}l`}>
      <span id={`${name}l`} className={labelHidden === true ? "visually-hidden" : "field-label"}>
        {label}
      </span>
      <div className="choice">
        {options.map((option) => (
          <label key={option.value}>
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => onChange(option.value)}
            />
            {option.text}
          </label>
        ))}
      </div>
    </div>
  );
}
