import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { cueShareOf, fadedCue, minutesOf } from "./schedule.ts";

const upTo = (count: number): number[] => Array.from({ length: count }, (_, index) => index);

describe("minutes", () => {
  it("[P3] published: eight sessions from 15 to 30 minutes in even steps are 180 in all (within 177 to 196, Davis et al. 2020)", () => {
    const minutes = upTo(8).map((index) => minutesOf({ kind: "linear", startMinutes: 15, endMinutes: 30 }, index, 8));
    expectClose(minutes, [15, 17.1, 19.3, 21.4, 23.6, 25.7, 27.9, 30], { atol: 0.05, because: "given to one decimal" });
    expectClose(
      minutes.reduce((sum, value) => sum + value, 0),
      180,
      { atol: 1e-9, because: "8 · (15 + 30) / 2" },
    );
  });

  it("a single session has the first minutes; a list holds its last entry", () => {
    expect(minutesOf({ kind: "linear", startMinutes: 15, endMinutes: 30 }, 0, 1)).toBe(15);
    expect(minutesOf({ kind: "listed", minutes: [5, 30] }, 4, 6)).toBe(30);
    expect(() => minutesOf({ kind: "listed", minutes: [] }, 0, 1)).toThrow("at least one entry");
  });
});

describe("fading", () => {
  it("[P4] eight sessions: four full, then three quarters, half, a quarter, a tenth", () => {
    expect(upTo(8).map((index) => cueShareOf(fadedCue, index, 8))).toEqual([1, 1, 1, 1, 0.75, 0.5, 0.25, 0.1]);
  });

  it("[P4] property: full for the first half, then never rising, ending at a tenth", () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 60 }), (count) => {
        const shares = upTo(count).map((index) => cueShareOf(fadedCue, index, count));
        const full = Math.ceil(count / 2);
        expect(shares.slice(0, full)).toEqual(upTo(full).map(() => 1));
        for (let index = 1; index < count; index += 1)
          expect(shares[index]).toBeLessThanOrEqual(shares[index - 1]! + 1e-12);
        expect(shares.at(-1)).toBe(0.1);
      }),
      { seed: 4, numRuns: 60 },
    );
  });

  it("constant and listed shares are what they say", () => {
    expect(cueShareOf({ kind: "constant", share: 0.5 }, 3, 9)).toBe(0.5);
    expect(cueShareOf({ kind: "listed", shares: [0, 1] }, 1, 2)).toBe(1);
  });
});
