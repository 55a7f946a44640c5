import { describe, expect, it } from "vitest";
import lmeValues from "../../../oracles/mixed-model/values.json" with { type: "json" };
import glsValues from "../../../oracles/gls/values.json" with { type: "json" };
import { expectClose } from "../../../tests/expect-close.ts";
import { fitMixedModel } from "./mixed-model.ts";
import { satterthwaiteDf } from "./satterthwaite.ts";

const because = "the accuracy asked of the fit against reference software; both sides stop an optimiser";

describe("fitMixedModel against lme4", () => {
  it.each(lmeValues.sets.map((set) => [set.name, set] as const))("outside tool: %s", (_, set) => {
    const columns = set.columns as Record<string, number[]>;
    const ones = set.y.map(() => 1);
    const data = {
      y: set.y,
      fixed: [ones, ...Object.values(columns)],
      random: set.slopes ? [ones, columns["x"]!] : [ones],
      group: set.group,
    };
    const fit = fitMixedModel(data);
    expectClose(fit.fixed, set.fixed, { rtol: 1e-4, because });
    expectClose(fit.fixedStandardErrors, set.fixedStandardErrors, { rtol: 1e-3, because });
    const covariance = [set.randomCovariance].flat();
    // Standard deviations and correlation, the form in which lme4 prints them: an off-diagonal near zero has no relative error.
    expectClose(fit.randomCovariance[0]!, covariance[0]!, { rtol: 1e-3, because });
    if (set.slopes) {
      expectClose(fit.randomCovariance[3]!, covariance[3]!, { rtol: 1e-3, because });
      const correlation = (c: ArrayLike<number>): number => c[1]! / Math.sqrt(c[0]! * c[3]!);
      expectClose(correlation(fit.randomCovariance), correlation(covariance), { atol: 1e-3, because });
    }
    expectClose(fit.residualSd, set.residualSd, { rtol: 1e-3, because });
    expectClose(fit.remlCriterion, set.remlCriterion, { rtol: 1e-6, because });
    const scale = Math.sqrt(covariance[0]!);
    expectClose(fit.groupEffects[0]!, [set.firstGroupEffects].flat(), { rtol: 1e-3, atol: 1e-4 * scale, because });
    expectClose(satterthwaiteDf(data, fit), set.satterthwaiteDf, {
      rtol: 1e-2,
      because: "second derivatives are numerical on both sides",
    });
  });

  it("published: sleepstudy gives 251.405 (6.825) and 10.467 (1.546), criterion 1743.628 (Bates et al. 2015, section 1.3)", () => {
    const set = lmeValues.sets[0]!;
    const ones = set.y.map(() => 1);
    const days = (set.columns as { x: number[] }).x;
    const fit = fitMixedModel({ y: set.y, fixed: [ones, days], random: [ones, days], group: set.group });
    expectClose(fit.fixed, [251.405, 10.467], { atol: 6e-4, because: "printed to three decimals" });
    expectClose(fit.fixedStandardErrors, [6.825, 1.546], { atol: 6e-4, because: "printed to three decimals" });
    expectClose(fit.remlCriterion, 1743.628, { atol: 6e-4, because: "printed to three decimals" });
  });
});

describe("fitMixedModel with autocorrelation against nlme", () => {
  it.each(glsValues.sets.map((set) => [set.name, set] as const))("outside tool: %s", (_, set) => {
    const ones = set.y.map(() => 1);
    const fit = fitMixedModel(
      { y: set.y, fixed: [ones, set.x], random: set.random ? [ones] : [], group: set.group, time: set.time },
      { autocorrelation: true },
    );
    expectClose(fit.fixed, set.fixed, { rtol: 1e-4, because });
    expectClose(fit.fixedStandardErrors, set.fixedStandardErrors, { rtol: 1e-3, because });
    expectClose(fit.residualSd, set.residualSd, { rtol: 1e-3, because });
    if (set.random) expectClose(Math.sqrt(fit.randomCovariance[0]!), set.randomSd, { rtol: 1e-3, because });
    expectClose(fit.rho, set.rho, { rtol: 1e-3, because });
    expectClose(fit.remlCriterion, set.minusTwoLogLik, { rtol: 1e-6, because });
  });
});

describe("fitMixedModel", () => {
  it("closed form: balanced one-way layout has the analysis-of-variance answer", () => {
    // Three groups of two: within mean square 0.5, between mean square 2·var(group means).
    const y = [1, 2, 4, 5, 9, 10];
    const fit = fitMixedModel({ y, fixed: [y.map(() => 1)], random: [y.map(() => 1)], group: [0, 0, 1, 1, 2, 2] });
    const means = [1.5, 4.5, 9.5];
    const grand = 31 / 6;
    const between = (2 * means.reduce((sum, m) => sum + (m - grand) ** 2, 0)) / 2;
    expectClose(fit.residualSd ** 2, 0.5, { rtol: 1e-6, because: "within mean square" });
    expectClose(fit.randomCovariance[0]!, (between - 0.5) / 2, { rtol: 1e-6, because: "(MSB − MSW)/n" });
    expectClose(fit.fixedStandardErrors[0]!, Math.sqrt(between / 6), { rtol: 1e-6, because: "MSB/N" });
  });

  it("closed form: a between-group variance that wants to be negative ends at zero", () => {
    const y = [1, 3, 3, 1, 2, 2];
    const fit = fitMixedModel({ y, fixed: [y.map(() => 1)], random: [y.map(() => 1)], group: [0, 0, 1, 1, 2, 2] });
    expectClose(fit.randomCovariance[0]!, 0, { atol: 1e-6, because: "groups have equal means" });
    expectClose(fit.residualSd ** 2, 4 / 5, { rtol: 1e-5, because: "plain variance" });
  });

  it("throws on too few rows, ragged columns, missing groups and time that stands still", () => {
    const ones = [1, 1, 1];
    expect(() => fitMixedModel({ y: [1], fixed: [[1]], random: [], group: [0] })).toThrow(RangeError);
    expect(() => fitMixedModel({ y: [1, 2, 3], fixed: [[1, 1]], random: [], group: [0, 0, 0] })).toThrow(RangeError);
    expect(() => fitMixedModel({ y: [1, 2, 3], fixed: [ones], random: [ones], group: [0, 0, 2] })).toThrow(RangeError);
    expect(() =>
      fitMixedModel(
        { y: [1, 2, 3], fixed: [ones], random: [], group: [0, 0, 0], time: [1, 1, 2] },
        { autocorrelation: true },
      ),
    ).toThrow(RangeError);
  });
});
