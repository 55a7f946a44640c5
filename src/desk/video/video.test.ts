import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { legGeometry } from "./leg-geometry.ts";
import { contactsOf, toggleMark } from "./marks.ts";

describe("leg geometry", () => {
  // A shank of 50 px that is 0.4 m long: 0.008 m per pixel. Ankle 30 px ahead of and 40 px below the knee: a 3-4-5 triangle.
  const points = { hip: { x: 100, y: 0 }, knee: { x: 110, y: 60 }, ankle: { x: 140, y: 100 }, toe: { x: 160, y: 105 } };

  it("closed form: atan(30/40), and 40 px ahead of the hip are 0.32 m", () => {
    const leg = legGeometry(points, 0.4);
    expectClose(leg.shankAngleRad, Math.atan2(30, 40), { rtol: 1e-12, because: "3-4-5 triangle" });
    expectClose(leg.footAheadOfHipM, 0.32, { rtol: 1e-12, because: "40 px at 0.4 m / 50 px" });
  });

  it("property: a runner filmed the other way round gives the same numbers", () => {
    const mirrored = Object.fromEntries(
      Object.entries(points).map(([name, point]) => [name, { x: -point.x, y: point.y }]),
    ) as typeof points;
    expect(legGeometry(mirrored, 0.4)).toEqual(legGeometry(points, 0.4));
  });

  it("a shank that leans back is negative", () => {
    expect(legGeometry({ ...points, knee: { x: 150, y: 60 } }, 0.4).shankAngleRad).toBeLessThan(0);
  });

  it("one point for knee and ankle is a programmer's error", () => {
    expect(() => legGeometry({ ...points, knee: points.ankle }, 0.4)).toThrow(RangeError);
  });
});

describe("marks", () => {
  it("pairs each landing with the toe-off before the next landing", () => {
    const marks = [
      { kind: "toe-off", frame: 30 },
      { kind: "contact", frame: 10 },
      { kind: "contact", frame: 55 },
      { kind: "contact", frame: 60 },
      { kind: "toe-off", frame: 80 },
      { kind: "toe-off", frame: 5 },
    ] as const;
    expect(contactsOf(marks)).toEqual([
      { landFrame: 10, toeOffFrame: 30 },
      { landFrame: 60, toeOffFrame: 80 },
    ]);
  });

  it("the same mark twice is none; another kind replaces it", () => {
    const one = toggleMark([], { kind: "contact", frame: 3 });
    expect(toggleMark(one, { kind: "contact", frame: 3 })).toEqual([]);
    expect(toggleMark(one, { kind: "toe-off", frame: 3 })).toEqual([{ kind: "toe-off", frame: 3 }]);
  });
});
