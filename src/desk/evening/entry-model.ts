// What a typed count means, while it is being typed: the engine's own answer, or the question to ask back. No screen in here.
import type { CountInput } from "../../api/index.ts";
import { countRate } from "../../engine/baseline/count.ts";
import { disagree } from "../../engine/baseline/pool.ts";
import { stopwatchRate } from "../../engine/baseline/stopwatch.ts";
import { type Feet, queryFeet } from "../../engine/quantities/feet.ts";
import type { Result } from "../../engine/quantities/problem.ts";
import type { Uncertain } from "../../engine/quantities/uncertain.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";

export interface CountSetup {
  readonly way: "contacts-in-time" | "time-of-contacts";
  /** Length of the count; ignored by the stopwatch way. */
  readonly seconds: number;
  /** Contacts timed by the stopwatch; ignored by the other way. */
  readonly contacts: number;
  readonly feet: Feet;
  readonly lapLengthM?: number;
  readonly surface: "outdoor" | "treadmill" | "unknown";
  readonly cue: "on" | "off" | "none";
  readonly purpose: "baseline" | "check";
}

export interface Entry {
  readonly id: string;
  /** As typed: the contacts, or the seconds by stopwatch. */
  readonly text: string;
  readonly lapText: string;
  /** Which foot this one counted, when the runner did otherwise than asked. */
  readonly feet?: Feet;
  /** The coach was asked and stands by it. */
  readonly confirmed: boolean;
  readonly measuredAt: string;
}

export type Judgement =
  | { readonly kind: "empty" }
  | { readonly kind: "not-a-number" }
  | { readonly kind: "impossible"; readonly message: string }
  | { readonly kind: "other-feet"; readonly likely: Feet; readonly rate: Uncertain; readonly contactsPerMinute: number }
  | {
      readonly kind: "implausible";
      readonly low: number;
      readonly high: number;
      readonly rate: Uncertain;
      readonly contactsPerMinute: number;
    }
  | { readonly kind: "fine"; readonly rate: Uncertain };

/** A decimal number as people type it, comma or point; undefined when it is none. */
export function parseNumber(text: string): number | undefined {
  const trimmed = text.trim().replace(",", ".");
  return /^\d+(\.\d+)?$/.test(trimmed) ? Number(trimmed) : undefined;
}

/** A time as "1:52", "1:52.4" or "112"; undefined when it is none. Seconds. */
export function parseLapTime(text: string): number | undefined {
  const match = /^(\d+):([0-5]?\d(?:[.,]\d+)?)$/.exec(text.trim());
  if (match) return Number(match[1]) * SECONDS_PER_MINUTE + Number((match[2] ?? "").replace(",", "."));
  return parseNumber(text);
}

export function judge(entry: Entry, setup: CountSetup): Judgement {
  if (entry.text.trim() === "") return { kind: "empty" };
  const value = parseNumber(entry.text);
  if (value === undefined) return { kind: "not-a-number" };
  const feet = entry.feet ?? setup.feet;
  const answer = rateOf(value, setup, feet);
  if (!answer.ok) return { kind: "impossible", message: answer.problems.map((one) => one.remedy).join(" ") };
  const { rate } = answer.value;
  const contactsPerMinute =
    setup.way === "contacts-in-time"
      ? (value * SECONDS_PER_MINUTE) / setup.seconds
      : (setup.contacts * SECONDS_PER_MINUTE) / value;
  const query = queryFeet({ value: contactsPerMinute, feet });
  if (entry.confirmed || query.kind === "plausible") return { kind: "fine", rate };
  if (query.kind === "other-label") return { kind: "other-feet", likely: query.likely, rate, contactsPerMinute };
  return { kind: "implausible", low: query.low, high: query.high, rate, contactsPerMinute };
}

function rateOf(value: number, setup: CountSetup, feet: Feet): Result<{ readonly rate: Uncertain }> {
  return setup.way === "contacts-in-time"
    ? countRate({ count: value, seconds: setup.seconds, feet, feetConfirmed: true })
    : stopwatchRate({ contacts: setup.contacts, seconds: value, feet, feetConfirmed: true });
}

/** The error of one count made this way, both feet, at a usual step rate: what the coach sees before anyone has counted. */
export function expectedErrorSpm(setup: CountSetup): number {
  const typical = 165;
  const contactsPerMinute = setup.feet === "one" ? typical / 2 : typical;
  const value =
    setup.way === "contacts-in-time"
      ? Math.round((contactsPerMinute * setup.seconds) / SECONDS_PER_MINUTE)
      : (setup.contacts * SECONDS_PER_MINUTE) / contactsPerMinute;
  const answer = rateOf(value, setup, setup.feet);
  return answer.ok ? answer.value.rate.standardError : Number.POSITIVE_INFINITY;
}

/** Do two good counts of one runner differ by more than their errors allow (rule M2)? */
export function contradicts(a: Judgement, b: Judgement): boolean {
  return a.kind === "fine" && b.kind === "fine" && disagree(a.rate, b.rate);
}

/** What is sent; undefined while the entry is not fine or its lap time cannot be read. */
export function toCountInput(entry: Entry, setup: CountSetup): CountInput | undefined {
  if (judge(entry, setup).kind !== "fine") return undefined;
  const value = parseNumber(entry.text);
  if (value === undefined) return undefined;
  const lapTimeS =
    setup.lapLengthM === undefined || entry.lapText.trim() === "" ? undefined : parseLapTime(entry.lapText);
  if (setup.lapLengthM !== undefined && entry.lapText.trim() !== "" && lapTimeS === undefined) return undefined;
  return {
    way: setup.way,
    contacts: setup.way === "contacts-in-time" ? value : setup.contacts,
    seconds: setup.way === "contacts-in-time" ? setup.seconds : value,
    feet: entry.feet ?? setup.feet,
    ...(setup.lapLengthM === undefined || lapTimeS === undefined ? {} : { lapLengthM: setup.lapLengthM, lapTimeS }),
    surface: setup.surface,
    ...(setup.cue === "none" ? {} : { cue: setup.cue }),
    purpose: setup.purpose,
    measuredAt: entry.measuredAt,
    ...(entry.confirmed ? { confirmed: true } : {}),
  };
}
