// Quantities as plain English text for cards, messages and notes. Screens with a locale have their own formatting.
import { type Feet, rateForFeet } from "./feet.ts";
import {
  formatMinutesSeconds,
  metresToCentimetres,
  metresToFeet,
  metresToInches,
  metresToKm,
  mpsToKmh,
  mpsToMph,
  paceSPerKm,
  paceSPerMile,
  SECONDS_PER_MINUTE,
  speedFromPaceSPerKm,
  speedFromPaceSPerMile,
} from "./units.ts";
import { fail, type Result, succeed } from "./problem.ts";

export interface DisplayUnits {
  readonly feet: Feet;
  readonly speed: "min-per-km" | "min-per-mile" | "km-per-h";
}

export const defaultUnits: DisplayUnits = { feet: "both", speed: "min-per-km" };

const imperial = (units: DisplayUnits): boolean => units.speed === "min-per-mile";

/** A number with at most so many decimals and no trailing zeros: 170, 166.5. */
export function trimmed(value: number, digits: number): string {
  const factor = 10 ** digits;
  const rounded = Math.round(value * factor) / factor;
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

/** "166.5 spm" or "83.25 per foot": to the tenth of both feet, the digit that a beat is set by. Given as both feet. */
export function showStepRate(stepRateSpm: number, units: DisplayUnits = defaultUnits): string {
  const tenths = Number(trimmed(stepRateSpm, 1));
  return units.feet === "both" ? `${trimmed(tenths, 1)} spm` : `${trimmed(rateForFeet(tenths, "one"), 2)} per foot`;
}

/** "5:57 per km", "9:35 per mile" or "10.1 km/h". */
export function showSpeed(speedMps: number, units: DisplayUnits = defaultUnits): string {
  switch (units.speed) {
    case "min-per-km":
      return `${formatMinutesSeconds(paceSPerKm(speedMps))} per km`;
    case "min-per-mile":
      return `${formatMinutesSeconds(paceSPerMile(speedMps))} per mile`;
    case "km-per-h":
      return `${mpsToKmh(speedMps).toFixed(1)} km/h`;
  }
}

/** Speed as a belt shows it: "10 km/h" or "6.2 mph". */
export function showBelt(speedMps: number, units: DisplayUnits = defaultUnits): string {
  return imperial(units) ? `${trimmed(mpsToMph(speedMps), 1)} mph` : `${trimmed(mpsToKmh(speedMps), 1)} km/h`;
}

/** "1.06 m" or "3.48 ft". */
export function showStepLength(stepLengthM: number, units: DisplayUnits = defaultUnits): string {
  return imperial(units) ? `${metresToFeet(stepLengthM).toFixed(2)} ft` : `${stepLengthM.toFixed(2)} m`;
}

/** A small length without its sign: "4 cm" or "1.6 in". */
export function showShortLength(lengthM: number, units: DisplayUnits = defaultUnits): string {
  const metres = Math.abs(lengthM);
  return imperial(units) ? `${trimmed(metresToInches(metres), 1)} in` : `${trimmed(metresToCentimetres(metres), 0)} cm`;
}

/** Track and block lengths stay in metres, as tracks are measured. "400 m", "1.5 km". */
export function showDistance(distanceM: number): string {
  return distanceM >= 1000 ? `${trimmed(metresToKm(distanceM), 2)} km` : `${trimmed(distanceM, 0)} m`;
}

/** "3 min", "3:20 min", "20 s". */
export function showDuration(durationS: number): string {
  const whole = Math.round(durationS);
  if (whole < SECONDS_PER_MINUTE) return `${whole} s`;
  return whole % SECONDS_PER_MINUTE === 0 ? `${whole / SECONDS_PER_MINUTE} min` : `${formatMinutesSeconds(whole)} min`;
}

/** Speed from what a coach types as pace, "5:57" or "5.57" never guessed at: minutes, colon, two digits of seconds. */
export function readPace(text: string, per: "km" | "mile"): Result<number> {
  const match = /^\s*(\d{1,2}):([0-5]\d)\s*$/.exec(text);
  const paceS = match === null ? 0 : Number(match[1]) * SECONDS_PER_MINUTE + Number(match[2]);
  // 2:00 to 20:00 per km: from beyond any runner to a slow walk.
  const speedMps = per === "km" ? speedFromPaceSPerKm(paceS) : speedFromPaceSPerMile(paceS);
  if (paceS > 0 && speedMps <= speedFromPaceSPerKm(120) && speedMps >= speedFromPaceSPerKm(1200))
    return succeed(speedMps);
  return fail({
    code: match === null ? "pace-unreadable" : "pace-implausible",
    where: { field: "pace" },
    got: text,
    expected: `minutes and seconds per ${per}, like 5:57`,
    remedy: "Type the pace with a colon.",
  });
}
