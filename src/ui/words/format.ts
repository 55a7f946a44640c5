// How numbers reach people: one place that knows units, signs, locale and whether the coach reads one foot or both.
import { type Feet, rateForFeet } from "../../engine/quantities/feet.ts";
import {
  formatMinutesSeconds,
  metresToFeet,
  metresToInches,
  metresToKm,
  metresToMiles,
  mpsToKmh,
  paceSPerKm,
  paceSPerMile,
} from "../../engine/quantities/units.ts";

export type SpeedUnit = "min-per-km" | "min-per-mile" | "km-per-h";

export interface Reading {
  readonly locale: string;
  readonly feet: Feet;
  readonly speed: SpeedUnit;
}

/** One decimal only where there is something behind the point. */
export function tenthsIfAny(value: number): 0 | 1 {
  return Math.abs(value - Math.round(value)) < 0.05 ? 0 : 1;
}

const MINUS = "−";
/** Keeps a number and its unit on one line. */
const NBSP = "\u00a0";

/** A number with at most `digits` decimals and a true minus sign. −0.04 at one digit is "0", never "−0". */
export function formatNumber(value: number, digits: number, locale = "en"): string {
  const factor = 10 ** digits;
  const rounded = Math.round(Math.abs(value) * factor) / factor;
  const text = new Intl.NumberFormat(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(
    rounded,
  );
  return value < 0 && rounded > 0 ? `${MINUS}${text}` : text;
}

/** As formatNumber, with a plus sign in front of anything that rounds above 0. */
export function formatSigned(value: number, digits: number, locale = "en"): string {
  const text = formatNumber(value, digits, locale);
  return text.startsWith(MINUS) || Math.round(Math.abs(value) * 10 ** digits) === 0 ? text : `+${text}`;
}

/** Decimals that an interval of a change deserves: whole steps, or tenths when whole ones would hide it. */
export function intervalDigits(lowSpm: number, highSpm: number): 0 | 1 {
  return highSpm - lowSpm < 5 ? 1 : 0;
}

export interface Format {
  readonly reading: Reading;
  /** "spm" or "per foot". */
  readonly rateUnit: string;
  /** The bare number, in the coach's foot count; one decimal for one foot when needed. */
  readonly rateValue: (stepRateSpm: number, digits?: number) => string;
  readonly rate: (stepRateSpm: number, digits?: number) => string;
  /** A rate that was set, not measured, to the digit that sounds: 161.5 stays 161.5 and 162 is 162; one foot of 161.5 is 80.75. */
  readonly beatValue: (stepRateSpm: number) => string;
  readonly beat: (stepRateSpm: number) => string;
  /** A change of step rate with its sign, no unit. */
  readonly rateChangeValue: (changeSpm: number, digits?: number) => string;
  readonly rateChange: (changeSpm: number, digits?: number) => string;
  /** The bare pace or speed: "5:57" or "10.1". */
  readonly speedValue: (speedMps: number) => string;
  /** "5:57 per km", "9:35 per mile", "10.1 km/h". */
  readonly speed: (speedMps: number) => string;
  readonly speedUnit: string;
  readonly length: (lengthM: number) => string;
  readonly lengthChange: (changeM: number) => string;
  readonly distance: (distanceM: number) => string;
  readonly percent: (share: number, digits?: number) => string;
  readonly signedPercent: (share: number, digits?: number) => string;
  readonly number: (value: number, digits?: number) => string;
  /** "1 h 04 min", "42 min", "38 s". */
  readonly duration: (seconds: number) => string;
  /** From an ISO date or date-time. */
  readonly date: (iso: string) => string;
  readonly dateShort: (iso: string) => string;
  readonly dateTime: (iso: string) => string;
}

/** Everything a screen needs to print quantities for one reader. */
export function createFormat(reading: Reading): Format {
  const { locale, feet } = reading;
  const perFoot = feet === "one";
  const rateUnit = perFoot ? "per foot" : "spm";
  const rateDigits = (value: number, digits?: number): number => {
    if (digits !== undefined) return digits;
    // A whole both-feet number halves to .5 at worst; show it rather than round it away.
    return perFoot && Math.abs(Math.round(value * 2) % 2) === 1 ? 1 : 0;
  };
  const rateValue = (spm: number, digits?: number): string => {
    const shown = rateForFeet(perFoot ? Math.round(spm * 10) / 10 : spm, feet);
    return formatNumber(shown, rateDigits(shown, digits), locale);
  };
  const beatValue = (spm: number): string => {
    const shown = rateForFeet(Math.round(spm * 10) / 10, feet);
    const digits = [0, 1].find((count) => Math.abs(shown * 10 ** count - Math.round(shown * 10 ** count)) < 1e-6) ?? 2;
    return formatNumber(shown, digits, locale);
  };
  const rateChangeValue = (spm: number, digits?: number): string => {
    // Half a step a minute of one foot is a whole step of both: a change of one foot keeps its decimal.
    return formatSigned(rateForFeet(spm, feet), digits ?? (perFoot ? 1 : 0), locale);
  };
  const speedUnit = reading.speed === "min-per-km" ? "per km" : reading.speed === "min-per-mile" ? "per mile" : "km/h";
  const speedValue = (mps: number): string => {
    if (reading.speed === "min-per-km") return formatMinutesSeconds(paceSPerKm(mps));
    if (reading.speed === "min-per-mile") return formatMinutesSeconds(paceSPerMile(mps));
    return formatNumber(mpsToKmh(mps), 1, locale);
  };
  const miles = reading.speed === "min-per-mile";
  const day = new Intl.DateTimeFormat(locale, { day: "numeric", month: "long", year: "numeric", timeZone: "UTC" });
  const dayShort = new Intl.DateTimeFormat(locale, { day: "numeric", month: "short", timeZone: "UTC" });
  const moment = new Intl.DateTimeFormat(locale, {
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
  });
  // A plain date has no zone: read it as UTC and print it as UTC. A moment is printed in the reader's zone.
  const plainDay = (iso: string): Date =>
    new Date(iso.length <= 10 ? `${iso}T00:00:00Z` : `${localDay(new Date(iso))}T00:00:00Z`);
  return {
    reading,
    rateUnit,
    rateValue,
    rate: (spm, digits) => `${rateValue(spm, digits)}${NBSP}${rateUnit}`,
    beatValue,
    beat: (spm) => `${beatValue(spm)}${NBSP}${rateUnit}`,
    rateChangeValue,
    rateChange: (spm, digits) => `${rateChangeValue(spm, digits)}${NBSP}${rateUnit}`,
    speedValue,
    speed: (mps) => `${speedValue(mps)}${NBSP}${speedUnit}`,
    speedUnit,
    length: (metres) =>
      miles
        ? `${formatNumber(metresToFeet(metres), 2, locale)}${NBSP}ft`
        : `${formatNumber(metres, 2, locale)}${NBSP}m`,
    lengthChange: (metres) =>
      miles
        ? `${formatSigned(metresToInches(metres), 1, locale)}${NBSP}in`
        : `${formatSigned(metres * 100, 0, locale)}${NBSP}cm`,
    distance: (metres) =>
      miles
        ? `${formatNumber(metresToMiles(metres), 2, locale)}${NBSP}miles`
        : `${formatNumber(metresToKm(metres), 2, locale)}${NBSP}km`,
    percent: (share, digits = 0) => `${formatNumber(share * 100, digits, locale)}${NBSP}%`,
    signedPercent: (share, digits = 0) => `${formatSigned(share * 100, digits, locale)}${NBSP}%`,
    number: (value, digits = 0) => formatNumber(value, digits, locale),
    duration: (seconds) => formatDuration(seconds),
    date: (iso) => day.format(plainDay(iso)),
    dateShort: (iso) => dayShort.format(plainDay(iso)),
    dateTime: (iso) => moment.format(new Date(iso)),
  };
}

function localDay(date: Date): string {
  const two = (n: number): string => String(n).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

function formatDuration(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole}${NBSP}s`;
  const minutes = Math.round(whole / 60);
  if (minutes < 60) return `${minutes}${NBSP}min`;
  return `${Math.floor(minutes / 60)}${NBSP}h${NBSP}${String(minutes % 60).padStart(2, "0")}${NBSP}min`;
}
