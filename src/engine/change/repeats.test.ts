import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { RateWindow } from "../recordings/window.ts";
import { effortCost, heartRateCost } from "./cost.ts";
import { learningCurve, straightTrend } from "./learning-curve.ts";
import type { Run } from "./run.ts";
import type { NormalMixture } from "./normal-mixture.ts";
import { sequentialVerdict, waldBounds } from "./sequential-decision.ts";
import { weeklyLooks } from "./weekly-looks.ts";
import {
  chanceOfWorthwhileChange,
  minimalDetectableChange95,
  smallestWorthwhileChange,
  standardErrorOfMeasurement,
  typicalError,
  typicalErrorOfPairs,
} from "./typical-error.ts";

const WEEK_MS = 7 * 24 * 3600 * 1000;

function known(value: Uncertain | NotEnough): Uncertain {
  if ("kind" in value) throw new Error(`${value.need}; have ${value.have}`);
  return value;
}

function run(id: string, week: number, of: Partial<RateWindow>, extra: Partial<Run> = {}): Run {
  const windows = Array.from(
    { length: 90 },
    (_, k): RateWindow => ({
      startS: 10 * k,
      endS: 10 * k + 10,
      stepRateSpm: 170,
      speedMps: 3,
      slope: 0,
      heartRateBpm: null,
      quality: 1,
      state: "running",
      cue: null,
      ...of,
    }),
  );
  return { id, surface: "outdoor", startedAtMs: week * WEEK_MS, windows, ...extra };
}

describe("typical error", () => {
  it("published: 72, 76, 74, 79, 79, 77 have mean 76.17 and typical error 2.79 (Hopkins' example, check value 44)", () => {
    const result = typicalError([72, 76, 74, 79, 79, 77]);
    expectClose([result.mean, result.typicalError], [76.17, 2.787], { atol: 0.004, because: "check value 44" });
    expectClose(result.typicalErrorPercent, (100 * 2.787) / 76.17, { atol: 0.01, because: "check value 44" });
  });
  it("published: detectable change of 6.65 and 3.33 % for a typical error of 2.4 % (check value 43, and the same formula over a table)", () => {
    const table = [1, 1.5, 2.4].map((te) => [1, 2, 4].map((n) => minimalDetectableChange95(te, n)));
    expectClose(table.flat(), [2.8, 2, 1.4, 4.2, 2.9, 2.1, 6.7, 4.7, 3.3], {
      atol: 0.06,
      because: "printed to one decimal",
    });
    expectClose([minimalDetectableChange95(2.4), minimalDetectableChange95(2.4, 4)], [6.65, 3.33], {
      atol: 0.01,
      because: "check value 43",
    });
  });
  it("published: 0.2 of 8.3 spm is 1.7 spm (derived)", () => {
    expectClose(smallestWorthwhileChange(8.3), 1.7, { atol: 0.05, because: "printed to one decimal" });
  });
  it("closed form: pairs give SD of differences over √2; SEM from reliability", () => {
    expectClose(typicalErrorOfPairs([10, 20, 30], [11, 19, 33]), 2 / Math.SQRT2, {
      rtol: 1e-12,
      because: "differences 1, −1, 3 have SD 2",
    });
    expectClose(standardErrorOfMeasurement(10, 0.91), 3, { rtol: 1e-12, because: "10·√0.09" });
  });
  it("closed form: a change equal to the smallest worthwhile one has an even chance", () => {
    expectClose(chanceOfWorthwhileChange(2, 2, 1), 0.5, { atol: 1e-15, because: "z = 0" });
    expectClose(chanceOfWorthwhileChange(2 + Math.SQRT2, 2, 1), 0.841344746, { atol: 1e-9, because: "z = 1" });
  });
  it("throws on one repeat", () => {
    expect(() => typicalError([5])).toThrow(RangeError);
    expect(() => typicalErrorOfPairs([1], [2])).toThrow(RangeError);
  });
});

describe("sequentialVerdict", () => {
  const normal = (mean: number, sd: number): NormalMixture => ({ means: [mean], sds: [sd], weights: [1] });
  it("published: bounds +2.8904 and −2.2513 (Wald, check value 45)", () => {
    const { upper, lower } = waldBounds(0.05, 0.1);
    expectClose([upper, lower], [2.8904, -2.2513], { atol: 1e-4, because: "check value 45" });
  });
  it("slow twin: with a known spread the evidence is a normal against a half normal, integrated", () => {
    // The same ratio by summing the likelihood over the half normal, in steps of 0.0001.
    const slow = (mean: number, sd: number, wanted: number): number => {
      const spread = wanted * Math.sqrt(Math.PI / 2);
      const density = (x: number, s: number): number => Math.exp(-0.5 * (x / s) ** 2) / (s * Math.sqrt(2 * Math.PI));
      let sum = 0;
      for (let d = 0.00005; d < 0.5; d += 0.0001) sum += 2 * density(d, spread) * density(mean - d, sd) * 0.0001;
      return Math.log(sum / density(mean, sd));
    };
    for (const [mean, sd] of [
      [0.04, 0.01],
      [0.01, 0.02],
      [-0.02, 0.01],
      [0.08, 0.015],
    ] as const)
      expectClose(sequentialVerdict(normal(mean, sd), 3).evidence, slow(mean, sd, Math.log(1.03)), {
        atol: 1e-4,
        because: `midpoint sum at ${mean}, ${sd}`,
      });
    expect(sequentialVerdict(normal(0.04, 0.01)).verdict).toBe("changed");
    expect(sequentialVerdict(normal(0.02, 0.02)).verdict).toBe("go-on");
    expect(sequentialVerdict(normal(-0.03, 0.01)).verdict).toBe("no-change");
    expect(() => sequentialVerdict(normal(0, 1), 0)).toThrow(RangeError);
  });
  it("property: spreads averaged over lie between the evidence of the smallest and of the largest", () => {
    const both: NormalMixture = { means: [0.04, 0.04], sds: [0.01, 0.03], weights: [0.5, 0.5] };
    const at = (change: NormalMixture): number => sequentialVerdict(change).evidence;
    expect(at(both)).toBeLessThan(at(normal(0.04, 0.01)));
    expect(at(both)).toBeGreaterThan(at(normal(0.04, 0.03)));
  });
  it("simulation: runs that share one baseline of three keep both errors however often one looks (4000 histories each, Monte-Carlo error 0.35 and 0.5 %)", () => {
    const random = createRandom(8);
    const share = (truth: number, wanted: string): number => {
      let count = 0;
      for (let history = 0; history < 4000; history += 1) {
        const [sd, n] = [0.015, 3];
        const baseline = (sd / Math.sqrt(n)) * random.normal();
        let sum = 0;
        let verdict = "go-on";
        for (let k = 1; k <= 60 && verdict === "go-on"; k += 1) {
          sum += truth + sd * random.normal();
          verdict = sequentialVerdict(normal(sum / k - baseline, sd * Math.sqrt(1 / n + 1 / k)), 3).verdict;
        }
        if (verdict === wanted) count += 1;
      }
      return count / 4000;
    };
    expect(share(0, "changed")).toBeLessThan(0.055);
    expect(share(Math.log(1.03), "no-change")).toBeLessThan(0.115);
    expect(share(Math.log(1.05), "changed")).toBeGreaterThan(0.9);
  });
  it("simulation: of 24 runners in whom nothing changed, looked at for six weeks, the verdict calls fewer changed than the weekly findings do", () => {
    const { everByFinding, everByVerdict } = weeklyLooks({ historyCount: 24, weekCount: 6, changePercent: 0, seed: 5 });
    expect(everByVerdict).toBeLessThan(0.15);
    expect(everByVerdict).toBeLessThanOrEqual(everByFinding);
  }, 60_000);
});

describe("learningCurve", () => {
  it("closed form: brings every run to one speed and finds 1.5 spm a week", () => {
    const runs = [0, 1, 2, 4].map((week, k) => {
      const speedMps = 3 + 0.2 * (k % 2);
      return run(`w${week}`, week, { speedMps, stepRateSpm: (160 + 1.5 * week) * (speedMps / 3) ** 0.15 });
    });
    const curve = learningCurve(runs.toReversed(), { atSpeedMps: 3 });
    if ("kind" in curve) throw new Error("no curve");
    expectClose(
      curve.points.map((point) => point.stepRateSpm),
      [160, 161.5, 163, 166],
      { atol: 1e-9, because: "known line" },
    );
    expectClose(known(curve.trendSpmPerWeek).estimate, 1.5, { atol: 1e-9, because: "known trend" });
  });
  it("published: three speeds give 8.752 spm per m/s as a straight line through the outer rows and exponent 0.1626 (Craib 1994, check values 5–9)", () => {
    const rows = [
      [2.68, 0.984, 163.41],
      [3.13, 1.124, 167.08],
      [3.58, 1.254, 171.29],
    ] as const;
    for (const [v, length, want] of rows)
      expectClose((60 * v) / length, want, { atol: 0.01, because: "check value 5–7" });
    const rate = (k: number): number => (60 * rows[k]![0]) / rows[k]![1];
    expectClose((rate(2) - rate(0)) / (3.58 - 2.68), 8.752, { atol: 0.01, because: "check value 8" });
    expectClose(Math.log(rate(2) / rate(0)) / Math.log(3.58 / 2.68), 0.1626, { atol: 5e-4, because: "check value 9" });
    const fitted = straightTrend(rows.map(([v], k) => ({ x: v, y: rate(k) })));
    expectClose(known(fitted).estimate, 8.752, {
      atol: 0.01,
      because: "equally spaced speeds: least squares slope is the outer slope",
    });
  });
  it("has no trend from two runs and no curve without steady minutes", () => {
    const two = learningCurve([run("a", 0, {}), run("b", 1, {})]);
    expect("kind" in two ? two : two.trendSpmPerWeek).toMatchObject({ kind: "not-enough" });
    expect(learningCurve([])).toMatchObject({ kind: "not-enough" });
  });
});

describe("cost", () => {
  const before = [0, 0.4, 0.8].map((week, k) => run(`b${k}`, week, { heartRateBpm: 150 + k - 1 }, { effortRating: 4 }));
  const after = [2, 2.4, 3, 5, 6, 7].map((week, k) =>
    run(`a${k}`, week, { heartRateBpm: (k < 3 ? 156 : 150) + (k % 3) - 1 }, { effortRating: k < 3 ? 6 : 4 }),
  );
  it("closed form: six beats more at first, none later", () => {
    const cost = heartRateCost(before, after);
    expectClose(known(cost.early).estimate, 6, {
      atol: 0.2,
      because: "three runs at 156 against three at 150, same speed",
    });
    expectClose(known(cost.later).estimate, 0, { atol: 0.2, because: "back at 150" });
    expect(known(cost.overall).interval95.low).toBeLessThan(3);
  });
  it("accounts for speed: a quicker run at the usual higher heart rate costs nothing", () => {
    const quick = after.slice(0, 3).map((r) => ({
      ...r,
      windows: r.windows.map((w) => ({ ...w, speedMps: 3.3, heartRateBpm: 150 * 1.1 ** 0.6 })),
    }));
    expectClose(known(heartRateCost(before, quick).overall).estimate, 0, { atol: 0.3, because: "exponent 0.6" });
  });
  it("closed form: effort two points up at first, none later", () => {
    const cost = effortCost(before, after);
    expectClose(known(cost.early).estimate, 2, { atol: 1e-12, because: "6 − 4" });
    expectClose(known(cost.later).estimate, 0, { atol: 1e-12, because: "4 − 4" });
    expect(known(cost.early).interval95.low).toBeGreaterThan(0);
  });
  it("has no answer without heart rate or ratings", () => {
    expect(heartRateCost(before.slice(0, 1), after).overall).toMatchObject({ kind: "not-enough" });
    expect(effortCost([run("x", 0, {})], after).overall).toMatchObject({ kind: "not-enough" });
  });
});
