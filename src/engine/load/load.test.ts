import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { DAMAGE_EXPONENTS, LEG_STIFFNESS_EXPONENT, PUBLISHED_LOAD_CHANGES, SINE_MODEL_BIAS } from "../evidence/load.ts";
import { hzToSpm, stepLengthM, stepsPerKm } from "../quantities/units.ts";
import { loadEstimate, type LoadMeasurement } from "./load-estimate.ts";
import { loadTrade } from "./load-trade.ts";
import { breakEvenReduction, perKilometreRatio } from "./per-kilometre.ts";
import { integrateUntil } from "./runge-kutta.ts";
import { runningCostJPerKgM } from "./running-cost.ts";
import { froudeNumber, legLengthFromHeightM, springMass } from "./spring-mass.ts";

const g = 9.81;
const runner = {
  massKg: 70,
  legLengthM: 0.93,
  speedMps: 3.33,
  contactTimeS: 0.25,
  flightTimeS: 0.1,
  gravityMps2: g,
} as const;

describe("springMass", () => {
  it("published: worked values of the equations of Morin et al. 2005 (check values 16–19, equations second hand, arithmetic derived)", () => {
    const s = springMass(runner);
    expectClose(s.peakForceN, 1510.13, { atol: 0.01, because: "check value 16" });
    expectClose(s.peakForceBodyWeights, 2.1991, { atol: 1e-4, because: "check value 16" });
    expectClose(s.comDropM, 0.05997, { atol: 1e-5, because: "check value 17" });
    expectClose(s.verticalStiffnessNpm, 25179.8, { atol: 0.5, because: "check value 18" });
    expectClose(s.legStiffnessNpm, 9538, { atol: 0.5, because: "check value 19" });
  });

  it.each([
    // m, L, v, tc, tf -> Fmax, drop, kvert kN/m, compression, kleg kN/m, duty, spm (worked examples, own arithmetic)
    [70, 0.93, 3.33, 0.24, 0.0785, 1431.48, 0.0487, 29.385, 0.1389, 10.303, 0.3768, 188.38],
    [60, 0.9, 2.7, 0.271, 0.112, 1306.68, 0.072, 18.149, 0.1497, 8.728, 0.3538, 156.66],
    [70, 0.9275, 3, 0.26, 0.09294, 1464.25, 0.0604, 24.251, 0.1464, 10.005, 0.3683, 170],
  ])(
    "published: worked example %d kg, %d m, %d m/s, %d s, %d s",
    (massKg, legLengthM, speedMps, contactTimeS, flightTimeS, ...want) => {
      const s = springMass({ massKg, legLengthM, speedMps, contactTimeS, flightTimeS, gravityMps2: g });
      const printed = "as many digits as are printed";
      expectClose(s.peakForceN, want[0]!, { atol: 0.006, because: printed });
      expectClose(s.comDropM, want[1]!, { atol: 6e-5, because: printed });
      expectClose(s.verticalStiffnessNpm / 1000, want[2]!, { atol: 6e-4, because: printed });
      expectClose(s.legCompressionM, want[3]!, { atol: 6e-5, because: printed });
      expectClose(s.legStiffnessNpm / 1000, want[4]!, { atol: 6e-4, because: printed });
      expectClose(s.dutyFactor, want[5]!, { atol: 6e-5, because: printed });
      expectClose(s.stepRateSpm, want[6]!, { atol: 6e-3, because: printed });
    },
  );

  it("closed form: vertical stiffness equals its second form m π (tf+tc) / (tc² ((tf+tc)/π − tc/4)) (check value 20)", () => {
    const { massKg: m, contactTimeS: tc, flightTimeS: tf } = runner;
    expectClose(
      springMass(runner).verticalStiffnessNpm,
      (m * Math.PI * (tf + tc)) / (tc ** 2 * ((tf + tc) / Math.PI - tc / 4)),
      {
        rtol: 1e-12,
        because: "the same algebra",
      },
    );
  });

  it("slow twin: integrating the sine force twice gives the same drop, with minus g tc²/8", () => {
    const s = springMass(runner);
    const { massKg: m, contactTimeS: tc, flightTimeS: tf } = runner;
    const acceleration = (t: number): number => (s.peakForceN / m) * Math.sin((Math.PI * t) / tc) - g;
    const end = integrateUntil((t, [, v]) => [v!, acceleration(t)], [0, (-g * tf) / 2], {
      until: (_, [, v]) => v!,
      maxTimeS: tc,
    });
    expectClose(end.timeS, tc / 2, { rtol: 1e-8, because: "lowest in the middle" });
    expectClose(-end.state[0]!, s.comDropM, { rtol: 1e-8, because: "tolerance of the integration" });
  });

  it("published: duty factor and stride frequency of measured times, 271 and 112 ms (J Exp Biol table: 35.5 %, 1.31 Hz; check values 21, 22)", () => {
    const s = springMass({ massKg: 60, legLengthM: 0.9, speedMps: 2.7, contactTimeS: 0.271, flightTimeS: 0.112 });
    expectClose(s.dutyFactor, 0.355, { atol: 0.002, because: "check value 21" });
    expectClose(s.stepRateSpm, hzToSpm(2 * 1.31), { rtol: 0.005, because: "check value 22" });
  });

  it("published: the trap of a fixed contact time, 9.538 → 9.473 → 9.409 kN/m at +0, +5, +10 % (derived)", () => {
    const at = (share: number): number =>
      springMass({ ...runner, flightTimeS: 0.35 / (1 + share) - 0.25 }).legStiffnessNpm / 1000;
    expectClose([at(0), at(0.05), at(0.1)], [9.538, 9.473, 9.409], { atol: 6e-4, because: "printed digits" });
  });

  it("property: force scales with mass, stiffness too, drop does not", () => {
    const [one, two] = [springMass(runner), springMass({ ...runner, massKg: 140 })];
    expectClose(
      [two.peakForceN, two.legStiffnessNpm, two.comDropM],
      [2 * one.peakForceN, 2 * one.legStiffnessNpm, one.comDropM],
      {
        rtol: 1e-12,
        because: "linear in mass",
      },
    );
  });

  it("throws on what no runner can be", () => {
    expect(() => springMass({ ...runner, contactTimeS: 0 })).toThrow(RangeError);
    expect(() => springMass({ ...runner, contactTimeS: 0.6 })).toThrow(/shorter than the leg/);
  });
});

describe("loadEstimate", () => {
  const measured: LoadMeasurement = {
    massKg: 70,
    legLengthM: 0.93,
    speedMps: 3.33,
    contactTimeS: 0.25,
    flightTimeS: 0.1,
    timesFrom: "video",
    slope: 0,
  };

  it("shows the known bias and what plates would probably have read beside the estimate", () => {
    const result = loadEstimate(measured);
    if (!result.ok) throw new Error("refused");
    const { likelyPeakForceN, springMass: s, caution, stepsPerKm: steps } = result.value;
    expectClose(likelyPeakForceN.low, s.peakForceN / (1 - 0.092 + 1.96 * 0.037), {
      rtol: 1e-12,
      because: "arithmetic",
    });
    expect(likelyPeakForceN.low).toBeGreaterThan(s.peakForceN);
    expectClose(steps, 1000 / (3.33 * 0.35), { rtol: 1e-9, because: "steps of 0.35 s" });
    expect(caution).toContain("nothing certain about injury");
    // m g π/2 (tf/tc + 1) of the recording's own times is 1746 N, 9.2 % under its plates.
    expectClose(82.7 * 9.80665 * (Math.PI / 2) * (0.092 / 0.249 + 1), 1745, { atol: 2, because: "sine model by hand" });
    expect(caution).toMatch(
      /9.2 % \(SD 3.7 %\) below force plates.*plates say 1923 N and a drop of 5.6 cm, the model 174[4-7] N and 5.[67] cm/,
    );
  });

  it("refuses slopes and implausible times, all problems at once", () => {
    const result = loadEstimate({ ...measured, slope: 0.05, contactTimeS: 0.9, massKg: 700 });
    expect(result.ok).toBe(false);
    if (!result.ok)
      expect(result.problems.map((p) => `${p.code} ${p.where.field}`).toSorted()).toEqual([
        "load-geometry contactTimeS",
        "load-implausible contactTimeS",
        "load-implausible massKg",
        "load-not-level slope",
      ]);
  });
});

describe("per kilometre", () => {
  it("published: the per-step and per-distance pairs agree with each other (check values 27–29)", () => {
    const [willy, willson, lenhart] = PUBLISHED_LOAD_CHANGES.value;
    const share = (percent: number): number => percent / 100;
    expectClose(perKilometreRatio(share(willy!.stepRateChangePercent!), share(willy!.perStepPercent)), 0.789, {
      atol: 0.01,
      because: "Willy 2016 reports −21.1 %; the averages of runners do not multiply exactly",
    });
    expectClose(perKilometreRatio(0.086, -0.269), 0.7939, { atol: 1e-4, because: "check value 27, arithmetic" });
    expectClose(perKilometreRatio(share(lenhart!.stepRateChangePercent!), share(lenhart!.perStepPercent)), 0.946, {
      atol: 1e-3,
      because: "check value 28",
    });
    expectClose((1 + share(willson!.perKilometrePercent)) / (1 + share(willson!.perStepPercent)), 1.189, {
      atol: 1e-3,
      because: "check value 29",
    });
  });

  it("published: break-even reductions (check values 30, 31, and the same formula over a table)", () => {
    expectClose(100 * breakEvenReduction(0.05, DAMAGE_EXPONENTS.value.bone), 0.737, {
      atol: 0.001,
      because: "check value 30",
    });
    expectClose(100 * breakEvenReduction(0.1, 1), 9.091, { atol: 0.001, because: "check value 31" });
    const table = [0.025, 0.05, 0.075, 0.1].map((x) => [1, 2, 4, 6.6, 9].map((b) => 100 * breakEvenReduction(x, b)));
    expectClose(
      table.flat(),
      [
        2.44, 1.23, 0.62, 0.37, 0.27, 4.76, 2.41, 1.21, 0.74, 0.54, 6.98, 3.55, 1.79, 1.09, 0.8, 9.09, 4.65, 2.36, 1.43,
        1.05,
      ],
      { atol: 0.006, because: "printed to two decimals" },
    );
  });

  it("property: at the break-even reduction the load per kilometre does not change", () => {
    for (const x of [-0.1, 0.05, 0.2])
      for (const b of [1, 4, 9])
        expectClose(perKilometreRatio(x, -breakEvenReduction(x, b), b), 1, { rtol: 1e-12, because: "definition" });
    expect(() => perKilometreRatio(-1, 0)).toThrow(RangeError);
    expect(() => breakEvenReduction(0.1, 0)).toThrow(RangeError);
  });

  it("published: steps per kilometre 944.4 at 170 spm and 3.0 m/s, 991.7 at +5 % (check value 4)", () => {
    expectClose([stepsPerKm(170, 3), stepsPerKm(178.5, 3)], [944.44, 991.67], {
      atol: 0.006,
      because: "printed digits",
    });
  });
});

describe("loadTrade", () => {
  it("closed form: +5 % steps at −2 % load a step, for each assumption, with the published pairs beside it", () => {
    const trade = loadTrade(0.05, -0.02);
    expectClose(
      trade.rows.map((row) => row.perKilometrePercent),
      [1, 6.6, 9].map((b) => 100 * (1.05 * 0.98 ** b - 1)),
      { atol: 1e-9, because: "definition" },
    );
    expectClose(
      trade.rows.map((row) => row.breakEvenPercent),
      [4.76, 0.74, 0.54],
      { atol: 0.006, because: "the break-even table" },
    );
    expect(trade.published.map((row) => row.perStepPercent)).toEqual([-26.9, -22.2, -14]);
    expect(trade.assumption).toContain("assumption");
  });
});

describe("published values around the spring–mass model", () => {
  it("published: stiffness exponent 1.389, +7.01 % and +14.15 % (Farley & Gonzalez 1996, check value 23)", () => {
    expectClose(LEG_STIFFNESS_EXPONENT.value, Math.log(16.3 / 7) / Math.log(1.36 / 0.74), {
      atol: 5e-4,
      because: "check value 23",
    });
    expectClose(
      [1.05, 1.1].map((x) => 100 * (x ** LEG_STIFFNESS_EXPONENT.value - 1)),
      [7.01, 14.15],
      { atol: 0.01, because: "check value 23" },
    );
  });
  it("published: dimensionless leg stiffness 15 is 11 075.8 N/m for 70 kg and 0.93 m (McMahon & Cheng 1990, check value 24); the model's legs are of that size", () => {
    expectClose((15 * 70 * g) / 0.93, 11075.8, { atol: 1, because: "check value 24" });
    const dimensionless = (springMass(runner).legStiffnessNpm * 0.93) / (70 * g);
    expect(dimensionless).toBeGreaterThan(10);
    expect(dimensionless).toBeLessThan(18);
  });
  it("published: leg length 0.9275 m and Froude number 1.219 at 12 km/h, 0.849 at 10 km/h for 1.75 m (check values 47, 48)", () => {
    expectClose(legLengthFromHeightM(1.75), 0.9275, { atol: 1e-4, because: "check value 47" });
    expectClose(froudeNumber(3.33, 0.9275, g), 1.219, { atol: 0.001, because: "check value 48" });
    expectClose(froudeNumber(10 / 3.6, 0.9275, g), 0.849, { atol: 0.001, because: "the same definition at 10 km/h" });
  });
  it("published: running cost over slope (Minetti et al. 2002, check values 25, 26)", () => {
    expectClose(
      [-0.2, -0.1, -0.05, -0.02, 0, 0.01, 0.02, 0.05, 0.1, 0.2, 0.45, -0.45].map(runningCostJPerKgM),
      [1.8, 2.1517, 2.7459, 3.2289, 3.6, 3.7996, 4.0082, 4.6852, 5.9682, 9.0067, 19.426, 4.0323],
      { atol: 6e-5, because: "printed to four decimals" },
    );
    expect(Math.abs(runningCostJPerKgM(0.45) - 18.93)).toBeLessThan(1.74);
    expect(() => runningCostJPerKgM(0.5)).toThrow(RangeError);
  });
  it("published: at fixed speed +5 / +7.5 / +10 % step rate shortens the step by 4.762 / 6.977 / 9.091 % (check value 3)", () => {
    expectClose(
      [1.05, 1.075, 1.1].map((x) => 100 * (stepLengthM(3, 170 * x) / stepLengthM(3, 170) - 1)),
      [-4.762, -6.977, -9.091],
      { atol: 0.001, because: "check value 3" },
    );
  });
  it("pin: the sine model's bias is shown as it was found on 87 measured rows (the open-data check finds it again)", () => {
    expect(SINE_MODEL_BIAS.value).toEqual({ meanPercent: -9.2, sdPercent: 3.7 });
  });
});
