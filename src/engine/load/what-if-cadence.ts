// "Same speed, five percent more steps: what changes?" for one runner, by the integrated spring–mass model.
import { LEG_STIFFNESS_EXPONENT } from "../evidence/load.ts";
import type { NotEnough } from "../quantities/uncertain.ts";
import { simulateStep, type BouncingRunner, type BouncingStep } from "./bouncing-runner.ts";
import { solveSystem } from "./newton.ts";
import { loadTrade, type LoadTrade } from "./load-trade.ts";
import { springMass, type SpringMassInput } from "./spring-mass.ts";

export interface WhatIfSide extends BouncingStep {
  readonly legStiffnessNpm: number;
}

export interface WhatIfCadence {
  readonly now: WhatIfSide;
  readonly quicker: WhatIfSide;
  readonly peakForceChangePercent: number;
  readonly comDropChangePercent: number;
  readonly contactTimeChangePercent: number;
  /** Per step and per kilometre, for several assumptions of what wears. */
  readonly trade: LoadTrade;
  readonly assumption: string;
}

/** The spring–mass runner with exactly these contact and flight times and this mean speed; undefined when there is none. */
export function fitBouncingRunner(measured: SpringMassInput): BouncingRunner | undefined {
  const closed = springMass(measured);
  const { massKg, legLengthM } = measured;
  const runnerAt = ([lnK, compression, speed]: readonly number[]): BouncingRunner => ({
    massKg,
    legLengthM,
    legStiffnessNpm: Math.exp(lnK!),
    midStanceCompressionM: compression!,
    midStanceSpeedMps: speed!,
  });
  const root = solveSystem(
    (x) => {
      if (!(x[1]! > 0 && x[1]! < 0.6 * legLengthM && x[2]! > 0)) return undefined;
      const step = simulateStep(runnerAt(x));
      return (
        step && [
          10 * (step.contactTimeS - measured.contactTimeS),
          10 * (step.flightTimeS - measured.flightTimeS),
          step.speedMps - measured.speedMps,
        ]
      );
    },
    [Math.log(closed.legStiffnessNpm), closed.legCompressionM, 0.97 * measured.speedMps],
  );
  return root && runnerAt(root);
}

/**
 * What the model says happens when step rate rises by `stepRateChangeShare` at the same speed. Assumes that leg stiffness rises
 * with step rate as in Farley & Gonzalez 1996. Change within ±15 % (RangeError outside). Not enough when the model cannot run so.
 * Cost: a few hundred short integrations, some 50 ms.
 */
export function whatIfCadence(measured: SpringMassInput, stepRateChangeShare: number): WhatIfCadence | NotEnough {
  if (!(Math.abs(stepRateChangeShare) <= 0.15))
    throw new RangeError(`whatIfCadence: stepRateChangeShare must be within ±0.15, got ${stepRateChangeShare}`);
  const none: NotEnough = {
    kind: "not-enough",
    need: "contact and flight times that a spring-like runner can have at this speed",
    have: `${measured.contactTimeS} s and ${measured.flightTimeS} s at ${measured.speedMps} m/s`,
  };
  const runner = fitBouncingRunner(measured);
  const now = runner && simulateStep(runner);
  if (runner === undefined || now === undefined) return none;
  const legStiffnessNpm = runner.legStiffnessNpm * (1 + stepRateChangeShare) ** LEG_STIFFNESS_EXPONENT.value;
  const stepTimeS = (now.contactTimeS + now.flightTimeS) / (1 + stepRateChangeShare);
  const quickerAt = (x: readonly number[]): BouncingRunner => ({
    ...runner,
    legStiffnessNpm,
    midStanceCompressionM: x[0]!,
    midStanceSpeedMps: x[1]!,
  });
  const root = solveSystem(
    (x) => {
      const step = x[0]! > 0 && x[1]! > 0 ? simulateStep(quickerAt(x)) : undefined;
      return step && [10 * (step.contactTimeS + step.flightTimeS - stepTimeS), step.speedMps - now.speedMps];
    },
    [runner.midStanceCompressionM, runner.midStanceSpeedMps],
  );
  const quicker = root && simulateStep(quickerAt(root));
  if (quicker === undefined) return none;
  const percent = (of: (step: BouncingStep) => number): number => 100 * (of(quicker) / of(now) - 1);
  const peakForceChangePercent = percent((step) => step.peakForceN);
  return {
    now: { ...now, legStiffnessNpm: runner.legStiffnessNpm },
    quicker: { ...quicker, legStiffnessNpm },
    peakForceChangePercent,
    comDropChangePercent: percent((step) => step.comDropM),
    contactTimeChangePercent: percent((step) => step.contactTimeS),
    trade: loadTrade(stepRateChangeShare, peakForceChangePercent / 100),
    assumption:
      "Leg stiffness rises with step rate to the power 1.39 (Farley & Gonzalez 1996, two end points at 2.5 m/s).",
  };
}
