import { describe, expect, test } from "vitest";
import { assembleTrack } from "./assemble-track.ts";
import type { TrackPoint } from "./track-point.ts";

const DAY_MS = 24 * 3600 * 1000;
const at = (second: number, eastM: number, more: Partial<TrackPoint> = {}): TrackPoint => ({
  place: second + 1,
  segment: 0,
  timeMs: DAY_MS * 20_000 + second * 1000,
  latitudeDeg: 0,
  longitudeDeg: eastM / 111_320,
  elevationM: NaN,
  speedMps: NaN,
  distanceM: NaN,
  cadence: NaN,
  heartRateBpm: NaN,
  ...more,
});
const assemble = (points: readonly TrackPoint[]) =>
  assembleTrack(points, { kind: "gpx", fileName: "run.gpx", hasClock: true });

describe("the order of time", () => {
  test("a clock set back by twenty seconds weaves two stretches and is refused", () => {
    const points = Array.from({ length: 120 }, (_, i) => at(i < 60 ? i : i - 20, 3 * i));
    const result = assemble(points);
    expect(result.ok ? [] : result.problems).toMatchObject([{ code: "time-backwards", where: { file: "run.gpx" } }]);
  });

  test("a few points in disorder are sorted, and none is lost", () => {
    const points = Array.from({ length: 60 }, (_, i) => at(i, 3 * i));
    const mixed = [...points.slice(0, 20), ...points.slice(30, 33), ...points.slice(20, 30), ...points.slice(33)];
    const result = assemble(mixed);
    if (!result.ok) throw new Error("refused");
    expect([...result.value.timeS]).toEqual(points.map((_, i) => i));
    expect(result.warnings.map((w) => w.code)).toEqual(["time-backwards"]);
  });

  test("stretches more than twelve hours apart are different recordings", () => {
    const first = Array.from({ length: 10 }, (_, i) => at(i, 3 * i));
    const later = (hours: number) => Array.from({ length: 20 }, (_, i) => at(i + hours * 3600, 3 * i));
    const far = assemble([...first, ...later(13)]);
    if (!far.ok) throw new Error("refused");
    expect(far.value.timeS.length).toBe(20);
    expect(far.value.startedAtMs).toBe(DAY_MS * 20_000 + 13 * 3600 * 1000);
    expect(far.warnings.map((w) => w.code)).toEqual(["several-recordings"]);
    const near = assemble([...first, ...later(11)]);
    expect(near.ok && near.value.timeS.length).toBe(30);
  });

  test("a repeated point fills what the first lacked", () => {
    const result = assemble([at(0, 0), at(1, 3, { cadence: 170 }), at(1, 3, { heartRateBpm: 150 }), at(2, 6)]);
    if (!result.ok) throw new Error("refused");
    expect(result.value.stepRateSpm[1]).toBe(170);
    expect(result.value.heartRateBpm[1]).toBe(150);
    expect(result.warnings.map((w) => w.code)).toEqual(["time-repeated"]);
  });
});
