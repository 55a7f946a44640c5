import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { RateWindow } from "../recordings/window.ts";
import { calibrateLateRun } from "./late-run-calibration.ts";
import { carryOver } from "./carry-over.ts";
import { lateRunDrop, lateRunDropOfMinutes, meanLateRunDrop } from "./late-run-drop.ts";
import { minuteMean } from "./minute-mean.ts";
import { steadyMinutes } from "./steady-minutes.ts";
import { speedDriftAtBeat, timeInBand } from "./time-in-band.ts";

const long = process.env["SPONDEE_LONG"] !== undefined && process.env["SPONDEE_LONG"] !== "0";

function windowsOf(count: number, of: (timeS: number, k: number) => Partial<RateWindow>): RateWindow[] {
  return Array.from({ length: count }, (_, k) => ({
    startS: 10 * k,
    endS: 10 * k + 10,
    stepRateSpm: 170,
    speedMps: 3,
    slope: 0,
    heartRateBpm: null,
    quality: 1,
    state: "running",
    cue: null,
    ...of(10 * k + 5, k),
  }));
}

function known(value: Uncertain | NotEnough): Uncertain {
  if ("kind" in value) throw new Error(`${value.need}; have ${value.have}`);
  return value;
}

describe("steadyMinutes", () => {
  it("closed form: ten minutes leave seven after the first three", () => {
    const { minutes } = steadyMinutes(windowsOf(60, () => ({})));
    expect(minutes).toHaveLength(7);
    expectClose(minutes[0]!.timeS, 210, { atol: 1e-9, because: "middle of the fourth minute" });
    expectClose(minutes[0]!.lnStepRate, Math.log(170), { atol: 1e-12, because: "constant" });
  });
  it("counts the three minutes from the first running window", () => {
    const { minutes } = steadyMinutes(windowsOf(60, (t) => (t < 120 ? { state: "standing", stepRateSpm: null } : {})));
    expect(minutes).toHaveLength(5);
    expect(minutes[0]!.timeS).toBeCloseTo(330, 6);
  });
  it("leaves out what is beside a stop, unsure, or changing speed", () => {
    const stop = steadyMinutes(
      windowsOf(60, (t) => (t > 300 && t < 310 ? { state: "standing", stepRateSpm: null } : {})),
    );
    // Windows within 15 s of the stop go: 280–300 and 310–330; the minutes they were in keep 30 s or more.
    expect(stop.minutes.flatMap((minute) => minute.timeS)).not.toContain(305);
    expect(steadyMinutes(windowsOf(60, () => ({ quality: 0.4 }))).minutes).toHaveLength(0);
    const surge = steadyMinutes(windowsOf(60, (t) => (t > 330 && t < 360 ? { speedMps: 4 } : {})));
    expect(surge.minutes).toHaveLength(6);
  });
  it("prefers level minutes, and says when it could not", () => {
    const hilly = windowsOf(120, (t) => ({ slope: t > 900 ? 0.05 : 0 }));
    const mostly = steadyMinutes(hilly);
    expect(mostly.minutes.every((minute) => minute.slope === 0)).toBe(true);
    expect(mostly.steepUsed).toBe(false);
    const climb = steadyMinutes(windowsOf(60, () => ({ slope: 0.05 })));
    expect(climb.steepUsed).toBe(true);
    expect(climb.minutes).toHaveLength(7);
  });
  it("overlapping windows do not cover more than there is", () => {
    const sparse = windowsOf(60, () => ({})).filter((_, k) => k % 6 < 2);
    expect(steadyMinutes([...sparse, ...sparse]).minutes).toHaveLength(0);
  });
  it("says when no window has a speed, and has no minutes of an empty run", () => {
    expect(steadyMinutes(windowsOf(60, () => ({ speedMps: null })))).toMatchObject({ minutes: [], speedMissing: true });
    expect(steadyMinutes([]).minutes).toEqual([]);
  });
});

describe("lateRunDrop", () => {
  it("closed form: a straight fall is told as last third minus first third", () => {
    // 2 % over the 27 steady minutes between the middles of the first and last: two thirds of it.
    const windows = windowsOf(180, (t) => ({ stepRateSpm: 170 * Math.exp((-0.02 * (t - 210)) / (26 * 60)) }));
    const drop = known(lateRunDrop(windows));
    expectClose(drop.estimate, 170 * Math.expm1((-0.02 * 2) / 3) * Math.exp(-0.01), {
      rtol: 2e-3,
      because: "level of the middle of the run",
    });
  });
  it("closed form: slowing down at the runner's own exponent is no drop", () => {
    const windows = windowsOf(180, (t) => {
      const speedMps = 3 * Math.exp(-t / 9000);
      return { speedMps, stepRateSpm: 170 * (speedMps / 3) ** 0.15 };
    });
    expectClose(known(lateRunDrop(windows)).estimate, 0, {
      atol: 1e-3,
      because: "accounted for; minutes average a curve",
    });
    expect(known(lateRunDrop(windows, { exponent: 0 })).estimate).toBeLessThan(-0.4);
  });
  it("published: 174.0 to 171.6 spm in a hard hour is −1.38 % (Hunter & Smith 2007, check value 33)", () => {
    expectClose(100 * (171.6 / 174 - 1), -1.38, { atol: 0.01, because: "check value 33" });
    expectClose([1.45 * 120, 1.43 * 120], [174, 171.6], {
      atol: 1e-9,
      because: "strides per second to steps per minute",
    });
    // A run that falls so from its first to its last minute shows two thirds of it between its outer thirds.
    const windows = windowsOf(360, (t) => ({ stepRateSpm: 174 * (171.6 / 174) ** ((t - 210) / (3570 - 210)) }));
    expectClose(known(lateRunDrop(windows)).estimate / 174, (2 / 3) * -0.0138, {
      atol: 3e-4,
      because: "straight fall",
    });
  });
  it("simulation: the interval holds the truth in 93 to 97 % of simulated runs of 13 to 60 minutes (Monte-Carlo error 1.3 points, 0.4 in the long run)", () => {
    const cells = calibrateLateRun(long ? 200 : 20, 20261203);
    const count = cells.reduce((sum, cell) => sum + cell.runCount, 0);
    const share = cells.reduce((sum, cell) => sum + cell.held, 0) / count;
    const error = Math.sqrt((0.95 * 0.05) / count);
    expect(count).toBeGreaterThan(250);
    expect(share).toBeGreaterThan(0.93 - 3 * error);
    expect(share).toBeLessThan(0.97 + 3 * error);
    // Held by being wide would be no feat.
    for (const cell of cells) expect(cell.meanWidthSpm).toBeLessThan(9);
  }, 200_000);
  it("simulation: the interval holds the truth in 90 to 99 % of autocorrelated minutes (300 runs, Monte-Carlo error 1.3 %)", () => {
    const random = createRandom(77);
    let held = 0;
    for (let run = 0; run < 300; run += 1) {
      let residual = random.normal();
      const minutes = Array.from({ length: 30 }, (_, k) => {
        residual = 0.5 * residual + Math.sqrt(0.75) * random.normal();
        return {
          timeS: 60 * k,
          lnStepRate: Math.log(170) + 0.008 * residual,
          lnSpeed: 1,
          slope: 0,
          heartRateBpm: null,
          cueOnShare: 0,
        };
      });
      const { interval95 } = known(lateRunDropOfMinutes(minutes, { seed: run, repeats: 150 }));
      if (interval95.low <= 0 && interval95.high >= 0) held += 1;
    }
    expect(held / 300).toBeGreaterThan(0.9);
    expect(held / 300).toBeLessThan(0.99);
  });
  it("property: the same seed gives the same interval; short runs have no answer", () => {
    const windows = windowsOf(180, (_, k) => ({ stepRateSpm: 170 + Math.sin(k) }));
    expect(lateRunDrop(windows, { seed: 4 })).toEqual(lateRunDrop(windows, { seed: 4 }));
    expect(lateRunDrop(windows.slice(0, 60))).toMatchObject({ kind: "not-enough", have: "7" });
  });
  it("closed form: the mean of several runs, never surer than their own errors", () => {
    const drop = (estimate: number): Uncertain => ({
      estimate,
      standardError: 1,
      interval95: { low: estimate - 2, high: estimate + 2 },
      sampleCount: 20,
      method: "",
    });
    const equal = known(meanLateRunDrop([drop(-3), drop(-3)]));
    expectClose(equal.estimate, -3, { atol: 1e-12, because: "mean" });
    expectClose(equal.interval95.high + 3, 1.95996 / Math.SQRT2, { rtol: 1e-4, because: "own errors of two runs" });
    expect(meanLateRunDrop([])).toMatchObject({ kind: "not-enough" });
  });
});

describe("minuteMean", () => {
  it("simulation: the interval of an autocorrelated series holds the truth in 88 to 98 % (400 series, Monte-Carlo error 1.3 %)", () => {
    const random = createRandom(5);
    let held = 0;
    for (let run = 0; run < 400; run += 1) {
      let residual = random.normal();
      const values = Array.from({ length: 72 }, (_, k) => {
        residual = 0.85 * residual + Math.sqrt(1 - 0.85 ** 2) * random.normal();
        return { timeS: 10 * k, value: residual };
      });
      const { interval95 } = known(minuteMean(values, "test"));
      if (interval95.low <= 0 && interval95.high >= 0) held += 1;
    }
    expect(held / 400).toBeGreaterThan(0.88);
    expect(held / 400).toBeLessThan(0.98);
  });
});

describe("carryOver", () => {
  const baseline = { stepRateSpm: 160, speedMps: 3 } as const;
  const cue = (t: number): "on" | "off" => (t < 300 ? "off" : t < 900 ? "on" : "off");

  it("closed form: 8 spm with the beat, 6 kept without it, is three quarters", () => {
    const windows = windowsOf(150, (t) => ({ cue: cue(t), stepRateSpm: t < 300 ? 160 : t < 900 ? 168 : 166 }));
    const result = carryOver(windows, baseline);
    expectClose(known(result.cueOnChangeSpm).estimate, 8, { atol: 1e-9, because: "constant" });
    expectClose(known(result.cueOffChangeSpm).estimate, 6, { atol: 1e-9, because: "only after the beat" });
    expect(result.keptShare).toBeCloseTo(0.75, 9);
  });
  it("does not take running faster for carry-over", () => {
    const windows = windowsOf(150, (t) => {
      const speedMps = t < 900 ? 3 : 3.6;
      return { cue: cue(t), speedMps, stepRateSpm: (t < 300 || t >= 900 ? 160 : 168) * (speedMps / 3) ** 0.15 };
    });
    expectClose(known(carryOver(windows, baseline).cueOffChangeSpm).estimate, 0, { atol: 1e-9, because: "same line" });
    expect(known(carryOver(windows, { stepRateSpm: 160 }).cueOffChangeSpm).estimate).toBeGreaterThan(4);
    expect(carryOver(windows, { stepRateSpm: 160 }).speedAccountedFor).toBe(false);
  });
  it("has no share where nothing was cued or the beat never stopped", () => {
    expect(
      carryOver(
        windowsOf(150, (t) => ({ cue: cue(t), stepRateSpm: 160 })),
        baseline,
      ).keptShare,
    ).toMatchObject({ kind: "not-enough" });
    expect(
      carryOver(
        windowsOf(150, () => ({ cue: "on" })),
        baseline,
      ).keptShare,
    ).toMatchObject({ kind: "not-enough" });
  });
});

describe("timeInBand and speedDriftAtBeat", () => {
  it("closed form: counts seconds inside, above and below, leaving out 15 s after the beat starts", () => {
    // Beat from 0: the windows that start at 0 and 10 s do not count. 28 remain: 14 on target, 7 above, 7 below.
    const windows = windowsOf(30, (_, k) => ({
      cue: "on",
      stepRateSpm: k < 2 ? 100 : [170, 170, 175, 165][(k - 2) % 4]!,
    }));
    const result = timeInBand(windows, () => 170);
    expect(result).toEqual({ inBandShare: 0.5, aboveShare: 0.25, belowShare: 0.25, cueOnS: 280 });
  });
  it("closed form: the edge of the band is inside, and the target may follow speed", () => {
    const edge = windowsOf(30, () => ({ cue: "on", stepRateSpm: 170 * 1.015 }));
    expect(timeInBand(edge, () => 170)).toMatchObject({ inBandShare: 1 });
    const quick = windowsOf(30, () => ({ cue: "on", speedMps: 4, stepRateSpm: 170 * (4 / 3) ** 0.15 }));
    expect(timeInBand(quick, (speed) => 170 * ((speed ?? 3) / 3) ** 0.15)).toMatchObject({ inBandShare: 1 });
    expect(timeInBand(quick, () => 170)).toMatchObject({ aboveShare: 1 });
  });
  it("needs a minute of beat", () => {
    expect(
      timeInBand(
        windowsOf(7, () => ({ cue: "on" })),
        () => 170,
      ),
    ).toMatchObject({ kind: "not-enough", have: "50 s" });
    expect(
      timeInBand(
        windowsOf(60, () => ({})),
        () => 170,
      ),
    ).toMatchObject({ kind: "not-enough" });
  });
  it("closed form: 3.3 m/s at the beat for 3.0 planned is +10 %", () => {
    const windows = windowsOf(60, () => ({ cue: "on", speedMps: 3.3 }));
    expectClose(known(speedDriftAtBeat(windows, 3)).estimate, 10, { atol: 1e-9, because: "arithmetic" });
    expect(() => speedDriftAtBeat(windows, 0)).toThrow(RangeError);
  });
});
