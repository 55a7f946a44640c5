// An open gait takes that of the steps it goes on from or into.
import { expect, it } from "vitest";
import { settleGaits } from "./gait-chain.ts";
import { type RatePoint } from "./rate-track.ts";

type Brief = readonly [RatePoint["state"], number | null];

const track = (points: readonly Brief[]): RatePoint[] =>
  points.map(([state, stepRateSpm], timeS) => ({
    timeS,
    stepRateSpm,
    quality: stepRateSpm === null ? 0 : 0.9,
    state,
    ...(state === "unknown"
      ? { reason: stepRateSpm === null ? ("gap" as const) : ("running-or-walking" as const) }
      : {}),
  }));
const states = (points: readonly Brief[]) => settleGaits(track(points)).map(({ state }) => state);

it("a run that slows without a break stays a run", () => {
  const settled = settleGaits(
    track([
      ["running", 152],
      ["running", 149],
      ["unknown", 146],
      ["unknown", 143],
    ]),
  );
  expect(settled.map(({ state }) => state)).toEqual(["running", "running", "running", "running"]);
  expect(settled[3]).toEqual({ timeS: 3, stepRateSpm: 143, quality: 0.9, state: "running" });
});
it("a jump of the rate, or a pause, ends the chain", () => {
  expect(
    states([
      ["running", 155],
      ["unknown", 140],
      ["unknown", 140],
    ]),
  ).toEqual(["running", "unknown", "unknown"]);
  const pause: readonly Brief[] = [
    ["running", 145],
    ["unknown", null],
    ["unknown", null],
    ["unknown", null],
  ];
  expect(states([...pause, ["unknown", 145]]).at(-1)).toBe("unknown");
});
it("a point without a rate inside a chain stays as it is", () => {
  expect(
    states([
      ["running", 145],
      ["unknown", null],
      ["unknown", 145],
    ]),
  ).toEqual(["running", "unknown", "running"]);
});
it("both gaits in one chain, or too few that know, leave it open", () => {
  expect(
    states([
      ["running", 140],
      ["unknown", 139],
      ["walking", 138],
    ])[1],
  ).toBe("unknown");
  const few: readonly Brief[] = [["running", 140], ...Array.from({ length: 4 }, (): Brief => ["unknown", 140])];
  expect(states(few).slice(1)).toEqual(["unknown", "unknown", "unknown", "unknown"]);
});
