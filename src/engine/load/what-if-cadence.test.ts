import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { simulateStep } from "./bouncing-runner.ts";
import { solveSystem } from "./newton.ts";
import { integrateUntil } from "./runge-kutta.ts";
import { springMass } from "./spring-mass.ts";
import { fitBouncingRunner, whatIfCadence } from "./what-if-cadence.ts";

const runners = [
  { massKg: 70, legLengthM: 0.93, speedMps: 3.33, contactTimeS: 0.25, flightTimeS: 0.1 },
  { massKg: 60, legLengthM: 0.9, speedMps: 2.7, contactTimeS: 0.271, flightTimeS: 0.112 },
  { massKg: 82, legLengthM: 0.97, speedMps: 4.2, contactTimeS: 0.215, flightTimeS: 0.125 },
] as const;

describe("integrateUntil", () => {
  it("closed form: a falling stone reaches the ground after √(2h/g)", () => {
    const end = integrateUntil((_, [, v]) => [v!, -9.81], [20, 0], { until: (_, [y]) => -y!, maxTimeS: 10 });
    expectClose(end.timeS, Math.sqrt(40 / 9.81), { rtol: 1e-10, because: "quadratic motion is integrated exactly" });
  });
  it("closed form: a harmonic oscillator turns after half a period at its full amplitude", () => {
    const end = integrateUntil((_, [x, v]) => [v!, -4 * x!], [1, 0], {
      until: (_, [, v]) => v!,
      maxTimeS: 4,
    });
    expectClose(end.timeS, Math.PI / 2, { atol: 1e-8, because: "local error 1e-10 over some hundred steps" });
    expectClose(end.state[0]!, -1, { atol: 1e-8, because: "same" });
  });
  it("says when the event never came", () => {
    expect(integrateUntil(() => [1], [0], { until: () => -1, maxTimeS: 1 }).reached).toBe(false);
  });
});

describe("solveSystem", () => {
  it("closed form: circle meets diagonal", () => {
    const root = solveSystem(([x, y]) => [x! ** 2 + y! ** 2 - 2, x! - y!], [3, 0.5]);
    expectClose(root!, [1, 1], { atol: 1e-9, because: "tolerance of the solver" });
    expect(solveSystem(([x]) => [x! ** 2 + 1], [1])).toBeUndefined();
  });
});

describe("the integrated spring–mass runner", () => {
  it.each(runners)("closed form: keeps its energy and returns the measured times at $speedMps m/s", (measured) => {
    const step = simulateStep(fitBouncingRunner(measured)!)!;
    expect(step.energyError).toBeLessThan(1e-9);
    expectClose(
      [step.contactTimeS, step.flightTimeS, step.speedMps],
      [measured.contactTimeS, measured.flightTimeS, measured.speedMps],
      {
        atol: 1e-9,
        because: "they are the equations solved",
      },
    );
  });

  it.each(runners)("slow twin: agrees with the closed forms within 5 % at $speedMps m/s", (measured) => {
    const runner = fitBouncingRunner(measured)!;
    const step = simulateStep(runner)!;
    const closed = springMass(measured);
    const because =
      "the closed forms take a sine for the force and one speed for the stance; they were 1 to 7 % below plates";
    expectClose(closed.peakForceN, step.peakForceN, { rtol: 0.05, because });
    expectClose(closed.comDropM, step.comDropM, { rtol: 0.05, because });
    expectClose(closed.legStiffnessNpm, runner.legStiffnessNpm, { rtol: 0.05, because });
  });

  it("closed form: momentum over a step is balanced, mean vertical force is body weight", () => {
    const step = simulateStep(fitBouncingRunner(runners[0])!)!;
    expectClose(step.stepLengthM, step.speedMps * (step.contactTimeS + step.flightTimeS), {
      rtol: 1e-12,
      because: "identity",
    });
    // For a force close to a half sine, peak ≈ (π/2)·(step time / contact time) body weights.
    expectClose(step.peakForceN / (70 * 9.80665), (Math.PI / 2) * (0.35 / 0.25), {
      rtol: 0.04,
      because: "nearly a half sine",
    });
  });

  it("has no step without push-off", () => {
    expect(
      simulateStep({
        massKg: 70,
        legLengthM: 0.9,
        legStiffnessNpm: 9000,
        midStanceCompressionM: 0.02,
        midStanceSpeedMps: 3,
      }),
    ).toBeUndefined();
  });
});

describe("whatIfCadence", () => {
  it.each(runners)(
    "same speed, +5 %: shorter contact, less drop, less force a step, the sum per kilometre said ($speedMps m/s)",
    (measured) => {
      const answer = whatIfCadence(measured, 0.05);
      if ("kind" in answer) throw new Error(answer.need);
      expectClose(answer.quicker.speedMps, measured.speedMps, { atol: 1e-8, because: "same speed" });
      const stepTime = (s: { contactTimeS: number; flightTimeS: number }): number => s.contactTimeS + s.flightTimeS;
      expectClose(stepTime(answer.now) / stepTime(answer.quicker), 1.05, {
        rtol: 1e-8,
        because: "five percent more steps",
      });
      expect(answer.contactTimeChangePercent).toBeLessThan(0);
      expect(answer.peakForceChangePercent).toBeLessThan(0);
      // Wang et al. 2020 (abstract): excursion −10.4 % after training towards +7.5 %.
      expect(answer.comDropChangePercent).toBeGreaterThan(-14);
      expect(answer.comDropChangePercent).toBeLessThan(-6);
      const [impulse, bone] = answer.trade.rows;
      expectClose(impulse!.perKilometrePercent, 100 * (1.05 * (1 + answer.peakForceChangePercent / 100) - 1), {
        atol: 1e-9,
        because: "definition",
      });
      // The same small relief is a loss when steps and load count alike and a gain when hard steps count far more.
      expect(impulse!.perKilometrePercent).toBeGreaterThan(0);
      expect(bone!.perKilometrePercent).toBeLessThan(0);
      expect(answer.trade.caution).toContain("nothing certain about injury");
    },
  );

  it("property: no change asked, nothing changes; opposite changes pull opposite ways", () => {
    const [none, less] = [whatIfCadence(runners[0], 0), whatIfCadence(runners[0], -0.05)];
    if ("kind" in none || "kind" in less) throw new Error("no answer");
    expectClose(none.peakForceChangePercent, 0, { atol: 1e-5, because: "tolerance of the solver" });
    expect(less.comDropChangePercent).toBeGreaterThan(0);
  });

  it("has no answer for times that no spring has, and refuses changes beyond 15 %", () => {
    expect(whatIfCadence({ ...runners[0], contactTimeS: 0.5, flightTimeS: 0.01 }, 0.05)).toMatchObject({
      kind: "not-enough",
    });
    expect(() => whatIfCadence(runners[0], 0.2)).toThrow(RangeError);
  });
});
