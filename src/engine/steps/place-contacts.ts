// Every contact of a recording, from the rates of the track and the stored features.
import { type NotEnough, type Uncertain } from "../quantities/uncertain.ts";
import { type FeatureStretch } from "./feature-store.ts";
import { createLandingFold } from "./landing-phase.ts";
import { findMovingSpans, type MovingSpan } from "./moving-spans.ts";
import { type RatePoint } from "./rate-track.ts";
import { followStepPhase, type StepPhase, stepTimesOf } from "./step-phase.ts";
import { measureTimingAsymmetry, type TimingAsymmetry } from "./timing-asymmetry.ts";

export interface Contacts {
  /** Ascending. */
  readonly stepTimesS: Float64Array;
  readonly stepCount: number;
  /** Of the longest span of running. */
  readonly timingAsymmetry: Uncertain | NotEnough;
}

interface FollowedSpan {
  readonly stretch: FeatureStretch;
  readonly span: MovingSpan;
  readonly phase: StepPhase;
  readonly asymmetry: TimingAsymmetry | undefined;
}

/** A shorter span holds no step that could be placed. */
const LEAST_SPAN_S = 1;

export function placeContacts(stretches: readonly FeatureStretch[], points: readonly RatePoint[]): Contacts {
  const followed = followSpans(stretches, points);
  const landings = { running: createLandingFold(), walking: createLandingFold(), unknown: createLandingFold() };
  for (const { stretch, span, phase } of followed) landings[span.state].add(stretch.body, span.from, phase.steps);
  const landingPhase = {
    running: landings.running.phase(),
    walking: landings.walking.phase(),
    unknown: landings.unknown.phase(),
  };
  const all: number[] = [];
  for (const { stretch, span, phase, asymmetry } of followed) {
    const { timesS, parities } = stepTimesOf(stretch, span, phase, landingPhase[span.state]);
    const delaySteps = asymmetry?.oddDelaySteps ?? 0;
    for (let i = 0; i < timesS.length; i += 1) {
      const intervalS = i > 0 ? timesS[i]! - timesS[i - 1]! : (timesS[1] ?? timesS[0]!) - timesS[0]!;
      all.push(timesS[i]! + (parities[i] === 1 ? 0.5 : -0.5) * delaySteps * intervalS);
    }
  }
  const runs = followed.filter(({ span }) => span.state === "running");
  const longest = runs.toSorted((a, b) => b.span.to - b.span.from - (a.span.to - a.span.from))[0];
  return {
    stepTimesS: Float64Array.from(all),
    stepCount: all.length,
    timingAsymmetry: longest?.asymmetry?.percent ?? {
      kind: "not-enough",
      need: "half a minute of steady running",
      have: "no running",
    },
  };
}

function followSpans(stretches: readonly FeatureStretch[], points: readonly RatePoint[]): readonly FollowedSpan[] {
  const followed: FollowedSpan[] = [];
  let next = 0;
  for (const stretch of stretches) {
    const endS = stretch.startS + stretch.body.length / stretch.featureRateHz;
    const from = next;
    while (next < points.length && points[next]!.timeS <= endS) next += 1;
    for (const span of findMovingSpans(stretch, points.slice(from, next))) {
      if (span.to - span.from < LEAST_SPAN_S * stretch.featureRateHz) continue;
      const phase = followStepPhase(stretch, span);
      const asymmetry = span.state === "running" ? measureTimingAsymmetry(stretch, span, phase) : undefined;
      followed.push({ stretch, span, phase, asymmetry });
    }
  }
  return followed;
}
