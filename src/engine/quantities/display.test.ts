import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import {
  readPace,
  showBelt,
  showDistance,
  showDuration,
  showShortLength,
  showSpeed,
  showStepLength,
  showStepRate,
  trimmed,
} from "./display.ts";
import { METRES_PER_MILE } from "./units.ts";

const mile = { feet: "one", speed: "min-per-mile" } as const;
const belt = { feet: "both", speed: "km-per-h" } as const;

describe("quantities as text", () => {
  it("closed form: 2.8 m/s is 5:57 per km, 9:35 per mile and 10.1 km/h", () => {
    expect(showSpeed(2.8)).toBe("5:57 per km");
    expect(showSpeed(2.8, mile)).toBe("9:35 per mile");
    expect(showSpeed(2.8, belt)).toBe("10.1 km/h");
  });

  it("closed form: a belt at 10 km/h is 6.2 mph (10 / 1.609344)", () => {
    expect(showBelt(10 / 3.6)).toBe("10 km/h");
    expect(showBelt(10 / 3.6, mile)).toBe("6.2 mph");
  });

  it("step rates are both feet inside and halved for one foot, to the digit that sounds", () => {
    expect(showStepRate(166.5)).toBe("166.5 spm");
    expect(showStepRate(170, mile)).toBe("85 per foot");
    expect(showStepRate(166.5, mile)).toBe("83.25 per foot");
  });

  it("closed form: 1.0588 m is 3.47 ft, 4 cm is 1.6 in; no sign on a small length", () => {
    expect(showStepLength(1.0588)).toBe("1.06 m");
    expect(showStepLength(1.0588, mile)).toBe("3.47 ft");
    expect(showShortLength(-0.04)).toBe("4 cm");
    expect(showShortLength(0.04, mile)).toBe("1.6 in");
  });

  it("durations and distances read as a person says them", () => {
    expect([20, 60, 200, 900, 59.6].map(showDuration)).toEqual(["20 s", "1 min", "3:20 min", "15 min", "1 min"]);
    expect([400, 1000, 1500].map(showDistance)).toEqual(["400 m", "1 km", "1.5 km"]);
    expect([-0.04, 2, 2.25].map((value) => trimmed(value, 1))).toEqual(["0", "2", "2.3"]);
  });
});

describe("a pace as typed", () => {
  it("closed form: 5:57 per km is 1000/357 m/s, 9:35 per mile is 1609.344/575", () => {
    const km = readPace(" 5:57 ", "km");
    const perMile = readPace("9:35", "mile");
    expectClose(km.ok ? km.value : Number.NaN, 1000 / 357, { rtol: 1e-14, because: "arithmetic" });
    expectClose(perMile.ok ? perMile.value : Number.NaN, METRES_PER_MILE / 575, { rtol: 1e-14, because: "arithmetic" });
  });

  it("is never guessed at", () => {
    const codes = ["5.57", "557", "5:7", "5:60", "", "-5:00", "1:30", "25:00"].map((text) => {
      const result = readPace(text, "km");
      return result.ok ? "taken" : result.problems[0]!.code;
    });
    expect(codes).toEqual([
      ...Array.from({ length: 6 }, () => "pace-unreadable"),
      "pace-implausible",
      "pace-implausible",
    ]);
  });

  it("property: what is shown reads back to within half a second of pace", () => {
    fc.assert(
      fc.property(fc.double({ min: 1.7, max: 6, noNaN: true }), (speedMps) => {
        const back = readPace(showSpeed(speedMps).replace(" per km", ""), "km");
        expect(back.ok).toBe(true);
        if (back.ok)
          expectClose(1000 / back.value, 1000 / speedMps, { atol: 0.5001, because: "shown in whole seconds" });
      }),
      { seed: 41, numRuns: 200 },
    );
  });
});
