import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { linearTicks, speedTicks, spreadLabels } from "./ticks.ts";

describe("ticks", () => {
  it("closed form: 150 to 180 over 300 px with 30 px of room is every 5", () => {
    const ticks = linearTicks(150, 180, (v) => (v - 150) * 10, 30);
    expect(ticks.map((tick) => tick.value)).toEqual([150, 155, 160, 165, 170, 175, 180]);
    expect(ticks[1]?.position).toBe(50);
  });

  it("closed form: paces between 2.5 and 3.1 m/s at 30 s are 6:30, 6:00, 5:30", () => {
    // 1000/390 = 2.564, 1000/360 = 2.778, 1000/330 = 3.030 m/s.
    const ticks = speedTicks(2.5, 3.1, (v) => (v - 2.5) * 300, 60, "min-per-km");
    expect(ticks.map((tick) => Math.round(1000 / tick.value))).toEqual([390, 360, 330]);
  });

  it("property: speed ticks never stand closer than asked, at any width, range and unit", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1.5, max: 4, noNaN: true }),
        fc.double({ min: 0.2, max: 3, noNaN: true }),
        fc.integer({ min: 200, max: 900 }),
        fc.constantFrom("min-per-km" as const, "min-per-mile" as const, "km-per-h" as const),
        (low, span, width, unit) => {
          const ticks = speedTicks(low, low + span, (v) => ((v - low) / span) * width, 56, unit);
          for (let i = 1; i < ticks.length; i += 1)
            expect(ticks[i]!.position - ticks[i - 1]!.position).toBeGreaterThanOrEqual(56);
          for (const tick of ticks) {
            expect(tick.position).toBeGreaterThanOrEqual(-1e-3);
            expect(tick.position).toBeLessThanOrEqual(width + 1e-3);
          }
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });
});

describe("spreadLabels", () => {
  it("closed form: two labels on one spot are moved apart", () => {
    expect(spreadLabels([50, 50], 15, 0, 100)).toEqual([50, 65]);
  });

  it("pushes back from the lower edge and keeps the order", () => {
    expect(spreadLabels([98, 99], 15, 0, 100)).toEqual([85, 100]);
  });

  it("property: neighbours keep their distance whenever there is room", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 200, noNaN: true }), { minLength: 1, maxLength: 4 }), (wanted) => {
        const placed = spreadLabels(wanted, 15, 0, 200).toSorted((a, b) => a - b);
        for (let i = 1; i < placed.length; i += 1)
          expect(placed[i]! - placed[i - 1]!).toBeGreaterThanOrEqual(15 - 1e-9);
        expect(placed[0]).toBeGreaterThanOrEqual(-1e-9);
        expect(placed.at(-1)).toBeLessThanOrEqual(200 + 1e-9);
      }),
      { seed: 12, numRuns: 300 },
    );
  });
});
