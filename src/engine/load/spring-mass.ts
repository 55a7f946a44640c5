// Peak force, stiffness and centre-of-mass drop from contact and flight time: the sine-wave spring–mass model.
// Source: Morin, Dalleau, Kyröläinen, Jeannin & Belli 2005, J Appl Biomech 21(2):167–180 (equations second hand).
import { LEG_LENGTH_SHARE } from "../evidence/load.ts";
import { hzToSpm, STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";

export interface SpringMassInput {
  readonly massKg: number;
  readonly legLengthM: number;
  readonly speedMps: number;
  /** Measured (video frames, force plate), never assumed: a contact time held fixed gives a false flat stiffness. */
  readonly contactTimeS: number;
  readonly flightTimeS: number;
  /** Default: standard gravity. */
  readonly gravityMps2?: number;
}

export interface SpringMass {
  readonly peakForceN: number;
  readonly peakForceBodyWeights: number;
  /** How far the centre of mass sinks during contact, positive. */
  readonly comDropM: number;
  readonly legCompressionM: number;
  readonly verticalStiffnessNpm: number;
  readonly legStiffnessNpm: number;
  /** Contact time over stride time, 0–1. */
  readonly dutyFactor: number;
  /** Both feet. */
  readonly stepRateSpm: number;
}

/**
 * The closed forms. All inputs positive and speed·contact/2 shorter than the leg (RangeError otherwise); level ground only.
 *   Fmax = m g (π/2)(tf/tc + 1);  drop = Fmax tc²/(m π²) − g tc²/8;  compression = L − √(L² − (v tc/2)²) + drop
 */
export function springMass(input: SpringMassInput): SpringMass {
  const { massKg: m, legLengthM, speedMps, contactTimeS: tc, flightTimeS: tf } = input;
  const g = input.gravityMps2 ?? STANDARD_GRAVITY_MPS2;
  for (const [name, value] of Object.entries(input))
    if (!(value > 0)) throw new RangeError(`springMass: ${name} must be positive, got ${value}`);
  const halfContactLengthM = (speedMps * tc) / 2;
  if (!(halfContactLengthM < legLengthM))
    throw new RangeError(
      `springMass: half the contact length (${halfContactLengthM} m) must be shorter than the leg (${legLengthM} m)`,
    );
  const peakForceN = m * g * (Math.PI / 2) * (tf / tc + 1);
  const comDropM = (peakForceN * tc ** 2) / (m * Math.PI ** 2) - (g * tc ** 2) / 8;
  const legCompressionM = legLengthM - Math.sqrt(legLengthM ** 2 - halfContactLengthM ** 2) + comDropM;
  const stepTimeS = tc + tf;
  return {
    peakForceN,
    peakForceBodyWeights: peakForceN / (m * g),
    comDropM,
    legCompressionM,
    verticalStiffnessNpm: peakForceN / comDropM,
    legStiffnessNpm: peakForceN / legCompressionM,
    dutyFactor: tc / (2 * stepTimeS),
    stepRateSpm: hzToSpm(1 / stepTimeS),
  };
}

/** Leg length from body height, when it was not measured. */
export function legLengthFromHeightM(heightM: number): number {
  return LEG_LENGTH_SHARE.value * heightM;
}

/** v² / (g L), the dimensionless speed of a leg. */
export function froudeNumber(
  speedMps: number,
  legLengthM: number,
  gravityMps2: number = STANDARD_GRAVITY_MPS2,
): number {
  return speedMps ** 2 / (gravityMps2 * legLengthM);
}
