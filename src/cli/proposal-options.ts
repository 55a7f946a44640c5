// The options that describe one runner to the rules of targets; shared by propose and plan.
import type { ProposalInput } from "../engine/target/propose.ts";
import { type OptionSpec, type Options, UsageError } from "./command.ts";

export const proposalOptions = {
  baseline: { value: "SPM", help: "comfortable step rate at that speed, both feet" },
  error: { value: "SPM", help: "standard error of the baseline (default 0: taken as sure)" },
  speed: { value: "MPS", help: "easy speed in metres per second" },
  height: { value: "M", help: "height in metres, for a plausibility check only" },
  "leg-length": { value: "M", help: "leg length in metres, for a plausibility check only" },
  history: { value: "bone|achilles|calf|none", repeat: true, help: "past trouble" },
  pain: { value: "0-10", help: "pain now" },
  goal: { value: "SPM", help: "the coach's own goal, both feet" },
  treadmill: { help: "the baseline was measured on a treadmill" },
} as const satisfies Record<string, OptionSpec>;

const histories = ["bone", "achilles", "calf", "none"] as const;

export function proposalInput(options: Options): ProposalInput {
  options.requiredNumber("baseline");
  options.requiredNumber("speed");
  // The range of both-feet rates is where a per-foot number is caught: it is never doubled silently.
  const estimate = options.numberIn(
    "baseline",
    120,
    220,
    "steps per minute, both feet; a count of one foot must be doubled first",
  )!;
  const speedMps = options.numberIn("speed", 1, 8, "metres per second")!;
  const standardError = options.numberIn("error", 0, 50, "spm") ?? 0;
  const heightM = options.numberIn("height", 1, 2.5, "metres");
  const legLengthM = options.numberIn("leg-length", 0.4, 1.4, "metres");
  const painNow0to10 = options.numberIn("pain", 0, 10, "0 none, 10 the worst imaginable");
  const coachGoalSpm = options.numberIn("goal", 120, 220, "steps per minute, both feet");
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

function oneOf(text: string): (typeof histories)[number] {
  const found = histories.find((history) => history === text);
  if (found === undefined) throw new UsageError(`--history takes ${histories.join(" or ")}, not "${text}"`);
  return found;
}
