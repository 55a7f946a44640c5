import { describe, expect, it } from "vitest";
import matched from "../../../oracles/gls/matched.json" with { type: "json" };
import sloped from "../../../oracles/gls/slopes.json" with { type: "json" };
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { curvatureT } from "./curvature.ts";
import { fitMatchedSpeed, type ModelPriors, type ModelRun } from "./matched-speed-model.ts";
import { mixtureCdf, mixtureMean, mixtureQuantile, mixtureSd } from "./normal-mixture.ts";
import { combineNormal, withinRunSlope } from "./speed-exponent.ts";

const modelRuns = (stored: typeof matched.runs): ModelRun[] =>
  stored.map((run) => ({ ...run, phase: run.phase === 1 ? 1 : 0, slope: run.timeS.map(() => 0) }));
const runs = modelRuns(matched.runs);
const flat: ModelPriors = {
  exponent: { mean: 0.15, sd: 100 },
  uphill: { mean: 0.5, sd: 1 },
  dayToDay: { median: 0.012, logSd: 2 },
};

describe("fitMatchedSpeed", () => {
  it("outside tool: with flat priors it is nlme's lme with corCAR1 on the same minutes", () => {
    const fit = fitMatchedSpeed(runs, matched.referenceLnSpeed, flat);
    const because = "see the header of the reference values";
    expectClose(mixtureMean(fit.change), matched.change, { atol: 0.05 * matched.changeStandardError, because });
    expectClose(mixtureSd(fit.change), matched.changeStandardError, { rtol: 0.12, because });
    expectClose(mixtureMean(fit.exponent), matched.exponent, { atol: 0.1 * matched.exponentStandardError, because });
    expectClose(fit.rho, matched.rho, { atol: 0.02, because });
    expectClose(fit.residualSd, matched.residualSd, { rtol: 0.01, because });
  });

  it("outside tool: where slopes differ from run to run it is nlme's lme with a random slope, and the interval is the wider for it", () => {
    const fit = fitMatchedSpeed(modelRuns(sloped.runs), sloped.referenceLnSpeed, flat);
    const because = "see the header of the reference values";
    expectClose(mixtureMean(fit.change), sloped.change, { atol: 0.05 * sloped.changeStandardError, because });
    expectClose(mixtureSd(fit.change), sloped.changeStandardError, { rtol: 0.12, because });
    if (typeof fit.slopeSd !== "number") throw new Error("the runs have ups and downs");
    expectClose(fit.slopeSd, sloped.slopeSd, { rtol: 0.05, because });
    expectClose([fit.rho, fit.residualSd], [sloped.rho, sloped.residualSd], { rtol: 0.03, because });
  });

  it("says when slopes cannot be told apart: no sign of it is 0, too few runs with ups and downs is no answer", () => {
    expect(fitMatchedSpeed(runs, matched.referenceLnSpeed, flat).slopeSd).toBe(0);
    const few = fitMatchedSpeed(modelRuns(sloped.runs.slice(10, 13)), sloped.referenceLnSpeed, flat);
    expect(few.slopeSd).toMatchObject({ kind: "not-enough", have: "3" });
  });

  it("closed form: a slope of its own counts for a run far from the reference speed, by its spread times the distance", () => {
    const { slopeSd, withinRunVariance } = fitMatchedSpeed(modelRuns(sloped.runs), sloped.referenceLnSpeed, flat);
    const far = fitMatchedSpeed(modelRuns(sloped.runs), sloped.referenceLnSpeed + 0.1, flat);
    const square = (shift: number): number =>
      sloped.runs.reduce((sum, run) => {
        const mean = run.lnSpeed.reduce((a, b) => a + b, 0) / run.lnSpeed.length;
        return sum + (mean - sloped.referenceLnSpeed - shift) ** 2 / sloped.runs.length;
      }, 0);
    if (typeof slopeSd !== "number") throw new Error("the runs have ups and downs");
    expectClose(far.withinRunVariance - withinRunVariance, slopeSd ** 2 * (square(0.1) - square(0)), {
      rtol: 1e-9,
      because: "mean of squared distances",
    });
  });

  it("closed form: with a flat spread prior the interval is Student's t over run means", () => {
    // Three and three runs without any error inside the run: means 0, 1, 2 and 3, 4, 5 (percent), s² = 1 on 4 degrees of freedom.
    const flatRuns = [0, 1, 2, 3, 4, 5].map(
      (level, k): ModelRun => ({
        phase: k < 3 ? 0 : 1,
        timeS: Array.from({ length: 10 }, (_, i) => 60 * i),
        lnSpeed: Array.from({ length: 10 }, () => 1),
        slope: Array.from({ length: 10 }, () => 0),
        response: Array.from({ length: 10 }, () => level / 100),
      }),
    );
    const { change } = fitMatchedSpeed(flatRuns, 1, {
      ...flat,
      exponent: { mean: 0.15, sd: 0.01 },
      dayToDay: { median: 0.01, logSd: 3 },
    });
    // The log-normal with logSd 3 is close to flat in ln tau, whose posterior is t with 4 degrees of freedom.
    const half = 2.776445 * Math.sqrt(2 / 3) * 0.01;
    expectClose(mixtureQuantile(change, 0.975) - mixtureMean(change), half, {
      rtol: 0.04,
      because: "prior not wholly flat, grid of spreads",
    });
    expectClose(mixtureMean(change), 0.03, { atol: 1e-9, because: "balanced" });
  });

  it("property: a prior on the exponent moves the change by exponent error times speed difference when speeds do not overlap", () => {
    const side = (phase: 0 | 1, lnSpeed: number): ModelRun[] =>
      [0, 1, 2].map((k) => ({
        phase,
        timeS: [0, 60, 120, 180],
        lnSpeed: [0, 0, 0, 0].map(() => lnSpeed),
        slope: [0, 0, 0, 0],
        response: [0, 0, 0, 0].map(() => 0.15 * lnSpeed + 0.001 * k),
      }));
    const change = (mean: number): number =>
      mixtureMean(
        fitMatchedSpeed([...side(0, 1), ...side(1, 1.2)], 1.1, { ...flat, exponent: { mean, sd: 1e-4 } }).change,
      );
    expectClose(change(0.1) - change(0.2), 0.1 * 0.2, { rtol: 1e-4, because: "confounded but for the prior" });
  });
});

describe("withinRunSlope", () => {
  const random = createRandom(21);
  const series = (noise: number, beta: number): { timeS: number[]; lnSpeed: number[]; response: number[] } => {
    let speed = 0.03 * random.normal();
    const truth = Array.from({ length: 40 }, () => {
      speed = 0.9 * speed + 0.03 * Math.sqrt(1 - 0.81) * random.normal();
      return speed;
    });
    const errors = Array.from({ length: 41 }, () => random.normal());
    return {
      timeS: truth.map((_, k) => 60 * k),
      // Errors of positions: what one minute gains the next one loses.
      lnSpeed: truth.map((x, k) => x + (noise * (errors[k + 1]! - errors[k]!)) / Math.SQRT2),
      response: truth.map((x) => beta * x + 0.004 * random.normal()),
    };
  };
  const plainSlope = (runsOf: readonly { lnSpeed: number[]; response: number[] }[]): number => {
    let [xy, xx] = [0, 0];
    for (const run of runsOf) {
      const mx = run.lnSpeed.reduce((a, b) => a + b, 0) / run.lnSpeed.length;
      run.lnSpeed.forEach((x, i) => {
        xy += (x - mx) * run.response[i]!;
        xx += (x - mx) ** 2;
      });
    }
    return xy / xx;
  };

  it("simulation: noise in speed flattens plain regression, not this one (30 seasons of 12 runs)", () => {
    let [own, plain, held] = [0, 0, 0];
    for (let k = 0; k < 30; k += 1) {
      const season = Array.from({ length: 12 }, () => series(0.03, 0.2));
      const slope = withinRunSlope(season);
      if (slope === undefined) throw new Error("the speed varied");
      own += slope.mean / 30;
      plain += plainSlope(season) / 30;
      if (Math.abs(slope.mean - 0.2) < 1.96 * slope.sd) held += 1;
    }
    expectClose(own, 0.2, { atol: 0.02, because: "three Monte-Carlo standard errors" });
    expect(plain).toBeLessThan(0.13);
    expect(held).toBeGreaterThanOrEqual(25);
  });

  it("has no answer when speed is constant or only noise", () => {
    const still = Array.from({ length: 6 }, () => ({
      ...series(0, 0.15),
      lnSpeed: Array.from({ length: 40 }, () => 1),
    }));
    expect(withinRunSlope(still)).toBeUndefined();
    const noise = Array.from({ length: 6 }, () => ({
      ...series(0, 0.15),
      lnSpeed: Array.from({ length: 40 }, () => 0.02 * random.normal()),
    }));
    expect(withinRunSlope(noise)).toBeUndefined();
    expect(withinRunSlope([])).toBeUndefined();
  });

  it("closed form: equal knowledge of 0.1 and 0.2 is 0.15 with √½ of the spread", () => {
    const both = combineNormal({ mean: 0.1, sd: 0.02 }, { mean: 0.2, sd: 0.02 });
    expectClose([both.mean, both.sd], [0.15, 0.02 / Math.SQRT2], { rtol: 1e-12, because: "precision weights" });
  });
});

describe("normal mixture", () => {
  it("closed form: one component is a normal, two have the law of total variance", () => {
    const one = { means: [2], sds: [3], weights: [1] };
    expectClose(mixtureQuantile(one, 0.975), 2 + 3 * 1.959963984540054, { rtol: 1e-9, because: "normal quantile" });
    const two = { means: [0, 4], sds: [1, 1], weights: [0.5, 0.5] };
    expectClose(mixtureSd(two), Math.sqrt(1 + 4), { rtol: 1e-12, because: "within plus between" });
    expectClose(mixtureCdf(two, 2), 0.5, { atol: 1e-12, because: "symmetry" });
    expect(() => mixtureQuantile(one, 1)).toThrow(RangeError);
  });
});

describe("curvatureT", () => {
  it("sees a bend over speed and leaves a straight line alone", () => {
    const random = createRandom(4);
    const make = (bend: number): ModelRun[] =>
      [0, 1, 0, 1].map((phase) => {
        const lnSpeed = Array.from({ length: 25 }, (_, k) => 0.15 * Math.sin(k / 3));
        return {
          phase: phase === 1 ? 1 : 0,
          timeS: lnSpeed.map((_, k) => 60 * k),
          lnSpeed,
          slope: lnSpeed.map(() => 0),
          response: lnSpeed.map((x) => 0.15 * x + bend * x * x + 0.004 * random.normal()),
        };
      });
    expect(Math.abs(curvatureT(make(0), 0.3))).toBeLessThan(3);
    expect(curvatureT(make(0.8), 0.3)).toBeGreaterThan(5);
  });
});
