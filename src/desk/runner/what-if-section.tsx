// Same speed, another step rate: the arithmetic of step length and steps per kilometre, from the runner's own numbers.
import { useQuery } from "@tanstack/react-query";
import { useMemo, useState } from "react";
import type { BaselineAnswer, Plan, Runner, VideoMeasure } from "../../api/index.ts";
import { bothFeetSpm, rateForFeet } from "../../engine/quantities/feet.ts";
import { METRES_PER_MILE, stepLengthM, stepsPerKm } from "../../engine/quantities/units.ts";
import { TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { videoQuery } from "../data/queries.ts";
import { parseNumber } from "../evening/entry-model.ts";
import { runnerWords } from "../strings/runner.ts";
import { whatIfLoad } from "./what-if-load.ts";

const words = runnerWords.whatIf;

interface WhatIfProps {
  readonly runner: Runner;
  readonly format: Format;
  readonly baseline: BaselineAnswer | undefined;
  readonly plan: Plan | undefined;
}

export function WhatIfSection({ runner, format, baseline, plan }: WhatIfProps) {
  const [typed, setTyped] = useState<string>();
  const clips = useQuery(videoQuery(runner.id)).data?.items;
  if (baseline?.kind !== "baseline" || baseline.speedMps === null) return null;
  const { feet, speed } = format.reading;
  const now = baseline.stepRateSpm.estimate;
  const speedMps = baseline.speedMps;
  const suggested = plan?.goalSpm ?? now * 1.05;
  const text = typed ?? String(Math.round(rateForFeet(suggested, feet)));
  const value = parseNumber(text);
  const then = value === undefined ? undefined : bothFeetSpm({ value, feet });
  const usable = then !== undefined && then >= 100 && then <= 260;
  const share = usable ? Math.round((then / now - 1) * 1000) / 1000 : undefined;
  const miles = speed === "min-per-mile";
  const perUnit = (rate: number): number => stepsPerKm(rate, speedMps) * (miles ? METRES_PER_MILE / 1000 : 1);
  return (
    <section>
      <h2 className="section-head">
        {words.heading} <HelpMark topic="whatIf" />
      </h2>
      <div className="row row-end no-print">
        <TextField
          label={`${words.rate}, ${format.rateUnit}`}
          inputMode="decimal"
          className="input-number"
          value={text}
          onChange={(event) => setTyped(event.target.value)}
        />
        <p className="muted">{words.lead(format.speed(speedMps))}</p>
      </div>
      {usable && (
        <table className="table narrow-table">
          <thead>
            <tr>
              <th scope="col">
                <span className="visually-hidden">{words.column.what}</span>
              </th>
              <th scope="col" className="num">
                {words.column.now}
              </th>
              <th scope="col" className="num">
                {words.column.other}
              </th>
              <th scope="col" className="num">
                {words.column.change}
              </th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">{words.rate}</th>
              <td className="num">{format.rate(now)}</td>
              <td className="num">{format.rate(then)}</td>
              <td className="num">{format.signedPercent(then / now - 1, 1)}</td>
            </tr>
            <tr>
              <th scope="row">{words.stepLength}</th>
              <td className="num">{format.length(stepLengthM(speedMps, now))}</td>
              <td className="num">{format.length(stepLengthM(speedMps, then))}</td>
              <td className="num">{format.signedPercent(now / then - 1, 1)}</td>
            </tr>
            <tr>
              <th scope="row">{miles ? words.stepsPerMile : words.stepsPerKm}</th>
              <td className="num">{format.number(perUnit(now))}</td>
              <td className="num">{format.number(perUnit(then))}</td>
              <td className="num">{format.signedPercent(then / now - 1, 1)}</td>
            </tr>
            {share !== undefined && clips && <LoadRows runner={runner} clips={clips} share={share} format={format} />}
          </tbody>
        </table>
      )}
      <p className="muted small">{words.note}</p>
    </section>
  );
}

interface LoadRowsProps {
  readonly runner: Runner;
  readonly clips: readonly VideoMeasure[];
  readonly share: number;
  readonly format: Format;
}

function LoadRows({ runner, clips, share, format }: LoadRowsProps) {
  const load = useMemo(() => whatIfLoad(runner, clips, share), [runner, clips, share]);
  if (!load)
    return (
      <tr>
        <td colSpan={4} className="muted small">
          {words.needsClip}
        </td>
      </tr>
    );
  return (
    <>
      <LoadRow name={words.perStep} share={load.perStepPercent / 100} format={format} />
      {load.perKm.map(({ tissue, percent }) => (
        <LoadRow key={tissue} name={words.perKm[tissue]} share={percent / 100} format={format} />
      ))}
      <tr>
        <td colSpan={4} className="muted small">
          {load.notes.join(" ")}
        </td>
      </tr>
    </>
  );
}

function LoadRow({ name, share, format }: { readonly name: string; readonly share: number; readonly format: Format }) {
  return (
    <tr>
      <th scope="row">{name}</th>
      <td colSpan={2} className="muted small">
        {words.estimate}
      </td>
      <td className="num">{format.signedPercent(share, 1)}</td>
    </tr>
  );
}
