// A runner as a point mass on a massless spring leg, integrated in the plane: the model behind the closed forms, without their
// shortcuts (the leg swings, the force is no exact sine). A symmetric step is integrated from mid-stance to take-off and mirrored.
import { STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";
import { integrateUntil } from "./runge-kutta.ts";

export interface BouncingRunner {
  readonly massKg: number;
  readonly legLengthM: number;
  readonly legStiffnessNpm: number;
  /** State at mid-stance: leg vertical, shortened by this, moving forward only. */
  readonly midStanceCompressionM: number;
  readonly midStanceSpeedMps: number;
}

export interface BouncingStep {
  readonly contactTimeS: number;
  readonly flightTimeS: number;
  /** Mean over the whole step. */
  readonly speedMps: number;
  readonly stepLengthM: number;
  readonly peakForceN: number;
  /** From touch-down to mid-stance. */
  readonly comDropM: number;
  /** Largest relative error of the total energy on the way: how exact the integration was. */
  readonly energyError: number;
}

/** One step; undefined when the leg never leaves the ground or the runner would not fly. */
export function simulateStep(runner: BouncingRunner): BouncingStep | undefined {
  const { massKg: m, legLengthM: length, legStiffnessNpm: k, midStanceCompressionM, midStanceSpeedMps } = runner;
  const g = STANDARD_GRAVITY_MPS2;
  const legOf = (x: number, y: number): number => Math.hypot(x, y);
  const start = [0, length - midStanceCompressionM, midStanceSpeedMps, 0];
  const end = integrateUntil(
    (_, [x, y, vx, vy]) => {
      const leg = legOf(x!, y!);
      const pull = (k * (length - leg)) / (m * leg);
      return [vx!, vy!, pull * x!, pull * y! - g];
    },
    start,
    { until: (_, [x, y]) => legOf(x!, y!) - length, maxTimeS: 0.5 },
  );
  const [x, y, vx, vy] = end.state as readonly [number, number, number, number];
  if (!end.reached || !(vy > 0) || !(y > 0)) return undefined;
  const energy = (height: number, speed2: number, compression: number): number =>
    m * g * height + 0.5 * m * speed2 + 0.5 * k * compression ** 2;
  const before = energy(start[1]!, midStanceSpeedMps ** 2, midStanceCompressionM);
  const after = energy(y, vx ** 2 + vy ** 2, length - legOf(x, y));
  const contactTimeS = 2 * end.timeS;
  const flightTimeS = (2 * vy) / g;
  const stepLengthM = 2 * x + vx * flightTimeS;
  return {
    contactTimeS,
    flightTimeS,
    speedMps: stepLengthM / (contactTimeS + flightTimeS),
    stepLengthM,
    peakForceN: k * midStanceCompressionM,
    comDropM: y - start[1]!,
    energyError: Math.abs(after / before - 1),
  };
}
