// What the marked frames say: rate, contact, flight, duty factor with their frame error; load where mass and speed are known.
import type { Runner } from "../../api/index.ts";
import { LEG_LENGTH_SHARE } from "../../engine/evidence/load.ts";
import { loadEstimate } from "../../engine/load/load-estimate.ts";
import { describeProblem } from "../../engine/quantities/problem.ts";
import type { NotEnough, Uncertain } from "../../engine/quantities/uncertain.ts";
import { kmhToMps } from "../../engine/quantities/units.ts";
import { measureVideoFrames } from "../../engine/steps/video-frames.ts";
import type { Format } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { videoWords as words } from "../strings/recording.ts";
import { contactsOf, type Mark } from "./marks.ts";

interface ResultsProps {
  readonly marks: readonly Mark[];
  readonly frameRateHz: number | undefined;
  readonly feet: "both" | "one";
  readonly speedKmh: number | undefined;
  readonly runner: Runner;
  readonly format: Format;
}

export function Results({ marks, frameRateHz, feet, speedKmh, runner, format }: ResultsProps) {
  const contacts = contactsOf(marks);
  if (frameRateHz === undefined || contacts.length === 0) return null;
  const measured = measureVideoFrames({ frameRateHz, contacts, feet });
  if (!measured.ok)
    return (
      <div className="notice" role="alert">
        {measured.problems.map((one) => (
          <p key={one.code}>{describeProblem(one)}</p>
        ))}
      </div>
    );
  const { contactTimeS, flightTimeS, dutyFactor, stepRateSpm } = measured.value;
  const ms = (value: Uncertain | NotEnough): string =>
    "kind" in value
      ? value.need
      : `${format.number(value.estimate * 1000)} ±${format.number(value.standardError * 1000)} ${words.ms}`;
  const rows: readonly (readonly [string, string])[] = [
    [
      words.stepRate,
      "kind" in stepRateSpm
        ? stepRateSpm.need
        : `${format.rate(stepRateSpm.estimate, 1)} ±${format.rateValue(stepRateSpm.standardError, 1)}`,
    ],
    [words.contactTime, ms(contactTimeS)],
    [words.flightTime, ms(flightTimeS)],
    [
      words.duty,
      "kind" in dutyFactor
        ? dutyFactor.need
        : `${format.percent(dutyFactor.estimate, 1)} ±${format.number(dutyFactor.standardError * 100, 1)}`,
    ],
  ];
  const load =
    speedKmh !== undefined && runner.massKg !== null && !("kind" in flightTimeS)
      ? loadEstimate({
          massKg: runner.massKg,
          legLengthM: runner.legLengthM ?? (runner.heightM ?? 1.75) * LEG_LENGTH_SHARE.value,
          speedMps: kmhToMps(speedKmh),
          contactTimeS: contactTimeS.estimate,
          flightTimeS: flightTimeS.estimate,
          timesFrom: "video",
          slope: 0,
        })
      : undefined;
  return (
    <section>
      <h2 className="section-head">
        {words.results} <HelpMark topic="dutyFactor" />
      </h2>
      <dl className="facts">
        {rows.map(([name, value]) => (
          <div key={name} className="facts-row">
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
        {load?.ok === true && (
          <>
            <div className="facts-row">
              <dt>{words.peakForce}</dt>
              <dd>{words.bodyWeights(format.number(load.value.springMass.peakForceBodyWeights, 2))}</dd>
            </div>
            <div className="facts-row">
              <dt>{words.stiffness}</dt>
              <dd>{words.stiffnessValue(format.number(load.value.springMass.legStiffnessNpm / 1000, 1))}</dd>
            </div>
          </>
        )}
      </dl>
      {load?.ok === true && <p className="muted small">{load.value.caution}</p>}
      {load?.ok === false &&
        load.problems.map((one) => (
          <p key={one.code + (one.where.field ?? "")} className="muted small">
            {describeProblem(one)}
          </p>
        ))}
      {measured.warnings.map((one) => (
        <p key={one.code} className="muted small">
          {one.message}
        </p>
      ))}
    </section>
  );
}
