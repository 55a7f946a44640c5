// Contact time, flight time, duty factor and step rate from frames counted on a slow-motion video.
import { fail, type Problem, type Result, succeed, type Warning } from "../quantities/problem.ts";
import { type NotEnough, type Uncertain } from "../quantities/uncertain.ts";
import { hzToSpm } from "../quantities/units.ts";

export interface VideoContact {
  /** First frame in which the foot is on the ground. */
  readonly landFrame: number;
  /** First frame in which it has left. */
  readonly toeOffFrame: number;
}

export interface VideoCount {
  /** Of the camera, not of a slowed playback. */
  readonly frameRateHz: number;
  /** Successive contacts, ascending. */
  readonly contacts: readonly VideoContact[];
  /** "both": every contact, left and right in turn. "one": every contact of one foot. */
  readonly feet: "both" | "one";
}

export interface VideoGait {
  readonly contactTimeS: Uncertain;
  /** From toe-off to the other foot's landing; negative in walking. */
  readonly flightTimeS: Uncertain | NotEnough;
  /** Contact time over stride time, 0–1. */
  readonly dutyFactor: Uncertain | NotEnough;
  readonly stepRateSpm: Uncertain | NotEnough;
}

const FRAME_RATE_HZ = { low: 20, high: 2000 };

/**
 * Times from counted frames. A moment lies anywhere in its frame, so a time between two moments has a rounding error that is
 * triangular over ± one frame, standard deviation 1/(√6·frameRate); n times average it down by √n. The standard error is
 * the larger of that and the scatter of the counted times. The rate uses the first and last landing only: its rounding
 * error falls with the number of steps between. With one foot counted, flight is half the stride less the contact.
 * Duty factor = contact / (2·(contact + flight)), as in the running literature. Needs one contact for the contact time,
 * two for the rest.
 */
export function measureVideoFrames(count: VideoCount): Result<VideoGait> {
  const problems = findProblems(count);
  if (problems.length > 0) return fail(...problems);
  const { contacts, frameRateHz } = count;
  const frameSdS = 1 / (Math.sqrt(6) * frameRateHz);
  const contactTimeS = average(
    contacts.map((contact) => (contact.toeOffFrame - contact.landFrame) / frameRateHz),
    frameSdS,
    "contact",
  );
  const intervals = contacts.length - 1;
  if (intervals === 0) {
    const more: NotEnough = { kind: "not-enough", need: "two contacts in a row", have: "one contact" };
    return succeed(
      { contactTimeS, flightTimeS: more, dutyFactor: more, stepRateSpm: more },
      warningsOf(count, contactTimeS),
    );
  }
  const stepsPerInterval = count.feet === "both" ? 1 : 2;
  const steps = intervals * stepsPerInterval;
  const spanS = (contacts[intervals]!.landFrame - contacts[0]!.landFrame) / frameRateHz;
  const stepTimeS = spanS / steps;
  const stepTimeSdS = frameSdS / steps;
  const flightTimeS =
    count.feet === "both"
      ? average(
          contacts.slice(1).map((contact, i) => (contact.landFrame - contacts[i]!.toeOffFrame) / frameRateHz),
          frameSdS,
          "flight",
        )
      : uncertain(
          stepTimeS - contactTimeS.estimate,
          Math.hypot(stepTimeSdS, contactTimeS.standardError),
          intervals,
          "half the stride less the contact",
        );
  const duty = contactTimeS.estimate / (2 * stepTimeS);
  const dutySd = duty * Math.hypot(contactTimeS.standardError / contactTimeS.estimate, stepTimeSdS / stepTimeS);
  const rate = hzToSpm(1 / stepTimeS);
  const value: VideoGait = {
    contactTimeS,
    flightTimeS,
    dutyFactor: uncertain(duty, dutySd, contacts.length, "contact time over stride time"),
    stepRateSpm: uncertain(
      rate,
      (rate * stepTimeSdS) / stepTimeS,
      steps,
      "first to last landing; rounding to frames only",
    ),
  };
  return succeed(value, warningsOf(count, contactTimeS, flightTimeS));
}

function average(valuesS: readonly number[], frameSdS: number, what: string): Uncertain {
  const n = valuesS.length;
  const mean = valuesS.reduce((sum, value) => sum + value, 0) / n;
  const scatter = n > 1 ? Math.sqrt(valuesS.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1)) : 0;
  return uncertain(
    mean,
    Math.max(scatter, frameSdS) / Math.sqrt(n),
    n,
    `mean of ${n} ${what} times from counted frames`,
  );
}

function uncertain(estimate: number, standardError: number, sampleCount: number, method: string): Uncertain {
  const half = 1.96 * standardError;
  return { estimate, standardError, interval95: { low: estimate - half, high: estimate + half }, sampleCount, method };
}

function findProblems({ frameRateHz, contacts }: VideoCount): Problem[] {
  const problems: Problem[] = [];
  if (!(frameRateHz >= FRAME_RATE_HZ.low && frameRateHz <= FRAME_RATE_HZ.high))
    problems.push({
      code: "video-frame-rate",
      where: { field: "frameRateHz" },
      got: String(frameRateHz),
      expected: `${FRAME_RATE_HZ.low} to ${FRAME_RATE_HZ.high} frames a second`,
      remedy: "Look up the camera's own rate, such as 120 or 240; a slowed playback hides it.",
    });
  if (contacts.length === 0)
    problems.push({
      code: "video-no-contacts",
      where: { field: "contacts" },
      got: "no contact",
      expected: "at least one contact, better ten",
      remedy: "Count the frames of a landing and the toe-off that follows.",
    });
  contacts.forEach((contact, i) => {
    const previous = contacts[i - 1];
    const whole = Number.isInteger(contact.landFrame) && Number.isInteger(contact.toeOffFrame);
    if (!whole || contact.toeOffFrame <= contact.landFrame || (previous && contact.landFrame <= previous.landFrame))
      problems.push({
        code: "video-frame-order",
        where: { field: "contacts", row: i + 1 },
        got: `landing ${contact.landFrame}, toe-off ${contact.toeOffFrame}`,
        expected: "whole frame numbers, each toe-off after its landing, each landing after the one before",
        remedy: "Count this contact again.",
      });
  });
  return problems;
}

function warningsOf(count: VideoCount, contact: Uncertain, flight?: Uncertain): Warning[] {
  const warnings: Warning[] = [];
  if (contact.standardError > 0.05 * contact.estimate)
    warnings.push({
      code: "video-coarse",
      message: `The contact time is only known to ± ${((196 * contact.standardError) / contact.estimate).toFixed(0)} %: count more contacts, or film faster than ${count.frameRateHz} frames a second.`,
    });
  if (flight !== undefined && flight.estimate <= 0)
    warnings.push({
      code: "video-no-flight",
      message: "A foot is always on the ground: this is walking, not running.",
    });
  return warnings;
}
