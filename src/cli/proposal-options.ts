// The options that describe one runner to the rules of targets; shared by propose and plan.
import { type DisplayUnits, readPace } from "../engine/quantities/display.ts";
import { bothFeetSpm, type Feet } from "../engine/quantities/feet.ts";
import type { ProposalInput } from "../engine/target/propose.ts";
import { InputError, type OptionSpec, type Options, UsageError } from "./command.ts";

export const proposalOptions = {
  baseline: { value: "RATE", help: "comfortable step rate at that speed, both feet" },
  "per-foot": { help: "rates are typed and shown for one foot" },
  error: { value: "RATE", help: "standard error of the baseline (default 0: taken as sure)" },
  pace: { value: "M:SS", help: "easy pace per km, like 5:57" },
  miles: { help: "paces are per mile, lengths in feet" },
  speed: { value: "MPS", help: "easy speed in metres per second, instead of a pace" },
  height: { value: "M", help: "height in metres, for a plausibility check only" },
  "leg-length": { value: "M", help: "leg length in metres, for a plausibility check only" },
  history: { value: "bone|achilles|calf|none", repeat: true, help: "past trouble" },
  pain: { value: "0-10", help: "pain now" },
  goal: { value: "RATE", help: "the coach's own goal, counted as the baseline" },
  treadmill: { help: "the baseline was measured on a treadmill" },
} as const satisfies Record<string, OptionSpec>;

const histories = ["bone", "achilles", "calf", "none"] as const;

export function proposalInput(options: Options): ProposalInput {
  options.requiredNumber("baseline");
  const { feet } = displayUnits(options);
  // The range of both-feet rates is where a per-foot number is caught, and the reverse: none is converted silently (M3).
  const estimate = rateIn(options, "baseline", feet)!;
  const speedMps = speedOf(options);
  const standardError = (options.numberIn("error", 0, 50, "steps per minute") ?? 0) * (feet === "one" ? 2 : 1);
  const heightM = options.numberIn("height", 1, 2.5, "metres");
  const legLengthM = options.numberIn("leg-length", 0.4, 1.4, "metres");
  const painNow0to10 = options.numberIn("pain", 0, 10, "0 none, 10 the worst imaginable");
  const coachGoalSpm = rateIn(options, "goal", feet);
  return {
    baseline: {
      stepRateSpm: {
        estimate,
        standardError,
        interval95: { low: estimate - 1.96 * standardError, high: estimate + 1.96 * standardError },
        sampleCount: 1,
        method: "as given",
      },
      speedMps,
      surface: options.flag("treadmill") ? "treadmill" : "unknown",
    },
    speedMps,
    history: options.texts("history").map((text) => oneOf(text)),
    ...(heightM === undefined ? {} : { heightM }),
    ...(legLengthM === undefined ? {} : { legLengthM }),
    ...(painNow0to10 === undefined ? {} : { painNow0to10 }),
    ...(coachGoalSpm === undefined ? {} : { coachGoalSpm }),
  };
}

/** As the coach types and reads: both feet or one, kilometres or miles. */
export function displayUnits(options: Options): DisplayUnits {
  return {
    feet: options.flag("per-foot") ? "one" : "both",
    speed: options.flag("miles") ? "min-per-mile" : "min-per-km",
  };
}

/** Both feet, from a number typed for `feet`; the range is that of the trade (M3). */
function rateIn(options: Options, name: string, feet: Feet): number | undefined {
  const value =
    feet === "both"
      ? options.numberIn(name, 120, 220, "steps per minute, both feet; for a count of one foot add --per-foot")
      : options.numberIn(name, 60, 110, "steps per minute of one foot; for both feet leave --per-foot out");
  return value === undefined ? undefined : bothFeetSpm({ value, feet });
}

function speedOf(options: Options): number {
  const pace = options.text("pace");
  if (pace === undefined) {
    if (options.text("speed") === undefined)
      throw new UsageError("--pace is missing (or --speed in metres per second)");
    return options.numberIn("speed", 1, 8, "metres per second; for a pace use --pace 5:57")!;
  }
  if (options.text("speed") !== undefined) throw new UsageError("give --pace or --speed, not both");
  const speed = readPace(pace, options.flag("miles") ? "mile" : "km");
  if (!speed.ok) throw new InputError(speed.problems.map((problem) => ({ ...problem, where: { field: "--pace" } })));
  return speed.value;
}

function oneOf(text: string): (typeof histories)[number] {
  const found = histories.find((history) => history === text);
  if (found === undefined) throw new UsageError(`--history takes ${histories.join(" or ")}, not "${text}"`);
  return found;
}
