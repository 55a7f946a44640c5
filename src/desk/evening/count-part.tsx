// The clock above, the counts below. When the clock stops, the cursor stands in the first empty count.
import { useCallback, useRef } from "react";
import type { Format } from "../../ui/words/format.ts";
import { clockWords } from "../strings/evening.ts";
import { Clock } from "./clock.tsx";
import { CountSetupForm } from "./count-setup.tsx";
import { EntryGrid } from "./entry-grid.tsx";
import { currentRound, hasNumbers } from "./sheet-model.ts";
import { useSheet } from "./use-sheet.ts";
import { useCountingClock } from "./use-counting-clock.ts";

export interface CountPartProps {
  readonly groupId: string;
  readonly on: string;
  readonly runners: readonly { readonly id: string; readonly name: string }[];
  readonly format: Format;
}

export function CountPart({ groupId, on, runners, format }: CountPartProps) {
  const handle = useSheet(groupId, on);
  const grid = useRef<HTMLDivElement>(null);
  const round = currentRound(handle.sheet);
  const { setup } = round;
  const stopwatch = setup.way === "time-of-contacts";
  const onDone = useCallback(() => {
    const inputs = [...(grid.current?.querySelectorAll<HTMLInputElement>("input[data-count]") ?? [])];
    const next = inputs.find((input) => input.value === "") ?? inputs[0];
    // After the full screen has closed.
    requestAnimationFrame(() => next?.focus());
  }, []);
  const clock = useCountingClock(stopwatch ? undefined : setup.seconds, onDone);
  const begin = (): void => {
    if (hasNumbers(round)) handle.nextRound();
    clock.start();
  };
  return (
    <>
      <div className="count-head">
        <Clock
          clock={clock}
          setup={setup}
          round={handle.sheet.rounds.length}
          onStart={begin}
          runners={runners}
          handle={handle}
        />
        <CountSetupForm setup={setup} format={format} onChange={handle.setUp} />
      </div>
      <div ref={grid}>
        <EntryGrid runners={runners} handle={handle} format={format} />
      </div>
      <output className="visually-hidden">
        {clock.phase === "running" && !stopwatch ? clockWords.announcedStart(setup.seconds) : ""}
        {clock.phase === "done" ? clockWords.announcedStop : ""}
      </output>
    </>
  );
}
