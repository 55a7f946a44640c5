// What was measured, in one line with its error; where it was; send.
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { NotKept, useKeep } from "../app/not-kept.tsx";
import { useFormat, useFrame, usePhone } from "../app/use-phone.tsx";
import { exactRate } from "../app/exact-rate.ts";
import { ChoiceRow } from "../app/choice-row.tsx";
import { type CountPlace, type Measured, sendCount } from "./send-count.ts";

export interface CountResultProps {
  readonly stepRateSpm: number;
  readonly standardErrorSpm: number;
  readonly measured: Measured;
  readonly onAgain: () => void;
}

export function CountResult({ stepRateSpm, standardErrorSpm, measured, onAgain }: CountResultProps) {
  const { phone, go } = useFrame();
  const { today } = usePhone();
  const format = useFormat();
  const [place, setPlace] = useState<CountPlace>({ surface: "outdoor", cue: "off" });
  const { keep, why } = useKeep();
  const target = today?.targetSpm ?? null;
  const give = async (): Promise<void> => {
    await sendCount(phone, measured, place);
    go({ name: "today" }, true);
  };
  return (
    <>
      <p className="huge" aria-live="polite">
        {format.rateValue(stepRateSpm)}
        <span className="huge-unit">{format.rateUnit}</span>
      </p>
      <p>
        Give or take{" "}
        {format.number(1.96 * (format.reading.feet === "one" ? standardErrorSpm / 2 : standardErrorSpm), 1)}
        {target === null ? "." : `. The aim now is ${exactRate(format, target)}.`}
      </p>
      <ChoiceRow
        label="Where"
        value={place.surface}
        options={[
          ["outdoor", "Outside"],
          ["treadmill", "Treadmill"],
        ]}
        onChange={(surface) => setPlace({ ...place, surface })}
      />
      <ChoiceRow
        label="The beat"
        value={place.cue}
        options={[
          ["off", "Was off"],
          ["on", "Was on"],
        ]}
        onChange={(cue) => setPlace({ ...place, cue })}
      />
      <div className="stack">
        <Button kind="go" big onClick={() => keep(give)}>
          Send to your coach
        </Button>
        <Button big onClick={onAgain}>
          Again
        </Button>
      </div>
      <NotKept why={why} />
    </>
  );
}
