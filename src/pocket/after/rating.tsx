// Nought to ten, one tap. Words at the ends and where something follows from the number.
import { useId } from "react";

export interface RatingProps {
  readonly label: string;
  readonly low: string;
  readonly high: string;
  readonly value: number | undefined;
  readonly onChange: (value: number) => void;
}

const values = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

export function Rating({ label, low, high, value, onChange }: RatingProps) {
  const name = useId();
  return (
    <fieldset className="rating">
      <legend>{label}</legend>
      <div className="rating-row">
        {values.map((one) => (
          <label key={one}>
            <input
              type="radio"
              className="visually-hidden"
              name={name}
              checked={one === value}
              onChange={() => onChange(one)}
            />
            <span>{one}</span>
          </label>
        ))}
      </div>
      <p className="rating-ends muted small">
        <span>0 {low}</span>
        <span>10 {high}</span>
      </p>
    </fieldset>
  );
}
