import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { speedFromPaceSPerKm } from "../quantities/units.ts";
import { paceRows, paceTable, stepRateAtSpeed } from "./speed-curve.ts";

describe("step rate over speed", () => {
  it("closed form: 5 % more steps from speed alone need 38 % more speed at β = 0.15", () => {
    expectClose(stepRateAtSpeed(170, 3, 3 * 1.05 ** (1 / 0.15), 0.15), 178.5, { rtol: 1e-12, because: "inverse" });
    expectClose(1.05 ** (1 / 0.15), 1.38, { atol: 0.01, because: "stated as +38 %" });
  });

  it("published: three measured points of Craib et al. 1994 (abstract) lie within 1 % of the law", () => {
    // Step length 0.984, 1.124 and 1.254 m at 2.68, 3.13 and 3.58 m/s; step rate by f = 60 v / L.
    const reference = (60 * 3.13) / 1.124;
    expectClose(stepRateAtSpeed(reference, 3.13, 2.68, 0.15), (60 * 2.68) / 0.984, {
      rtol: 0.01,
      because: "rounded means",
    });
    expectClose(stepRateAtSpeed(reference, 3.13, 3.58, 0.15), (60 * 3.58) / 1.254, {
      rtol: 0.01,
      because: "rounded means",
    });
  });

  it("closed form: step lengths of the pace grid by L = 60 v / f, at a flat curve", () => {
    // 5:00 per km at 180 spm is 1.1111 m, 6:00 at 170 is 0.9804 m (arithmetic).
    expectClose(paceRows(180, 3, [speedFromPaceSPerKm(300)], 0)[0]!.stepLengthM, 10 / 9, {
      rtol: 1e-12,
      because: "identity",
    });
    expectClose(paceRows(170, 3, [speedFromPaceSPerKm(360)], 0)[0]!.stepLengthM, 0.9804, {
      atol: 5e-5,
      because: "4 digits",
    });
  });

  it("rows are quarter minutes of pace around the reference, which is one of them", () => {
    const paces = paceTable(170, speedFromPaceSPerKm(357), { exponent: 0.15 }).map((row) =>
      Math.round(1000 / row.speedMps),
    );
    expect(paces).toEqual([405, 390, 375, 357, 345, 330, 315]);
    const onGrid = paceTable(170, speedFromPaceSPerKm(360), { exponent: 0.15 }).map((row) =>
      Math.round(1000 / row.speedMps),
    );
    expect(onGrid).toEqual([405, 390, 375, 360, 345, 330, 315]);
  });

  it("refuses a speed that is none", () => {
    expect(() => stepRateAtSpeed(170, 0, 3, 0.15)).toThrow("speeds must be above 0");
  });
});
