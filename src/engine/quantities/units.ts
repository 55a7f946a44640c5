// Every unit conversion of the project. A multiplication by 60 or 3.6 anywhere else is a mistake.

export const SECONDS_PER_MINUTE = 60;

/** stepLengthM = 60 · speedMps / stepRateSpm, an identity. Both arguments positive. */
export function stepLengthM(speedMps: number, stepRateSpm: number): number {
  return (SECONDS_PER_MINUTE * speedMps) / stepRateSpm;
}

export function stepsPerKm(stepRate: number, speedMps: number): number {
  return (1000 * stepRate) / (SECONDS_PER_MINUTE * speedMps);
}

export function spmToHz(stepRate: number): number {
  return stepRate / SECONDS_PER_MINUTE;
}

export function hzToSpm(frequencyHz: number): number {
  return frequencyHz * SECONDS_PER_MINUTE;
}

/** Time from one beat to the next, in seconds. */
export function stepIntervalS(stepRate: number): number {
  return SECONDS_PER_MINUTE / stepRate;
}

export function paceSPerKm(speedMps: number): number {
  return 1000 / speedMps;
}

export function paceSPerMile(speedMps: number): number {
  return METRES_PER_MILE / speedMps;
}

export function speedFromPaceSPerKm(paceS: number): number {
  return 1000 / paceS;
}

export function speedFromPaceSPerMile(paceS: number): number {
  return METRES_PER_MILE / paceS;
}

export function mpsToMph(speedMps: number): number {
  return (3600 * speedMps) / METRES_PER_MILE;
}

export function mpsToKmh(speedMps: number): number {
  return speedMps * 3.6;
}

export function kmhToMps(speedKmh: number): number {
  return speedKmh / 3.6;
}

/** International mile, exact by definition (1959 agreement). */
export const METRES_PER_MILE = 1609.344;

/** International foot, exact by definition (1959 agreement). */
export const METRES_PER_FOOT = 0.3048;

export function metresToCentimetres(lengthM: number): number {
  return 100 * lengthM;
}

export function metresToFeet(lengthM: number): number {
  return lengthM / METRES_PER_FOOT;
}

export function metresToInches(lengthM: number): number {
  return (12 * lengthM) / METRES_PER_FOOT;
}

export function metresToKm(distanceM: number): number {
  return distanceM / 1000;
}

export function metresToMiles(distanceM: number): number {
  return distanceM / METRES_PER_MILE;
}

/** Standard gravity, exact by definition: The International System of Units (BIPM), 3rd CGPM 1901. */
export const STANDARD_GRAVITY_MPS2 = 9.80665;

/** "5:57" from seconds. Rounds to the second first, so 359.6 s is "6:00". */
export function formatMinutesSeconds(seconds: number): string {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}
