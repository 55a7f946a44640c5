import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { programmeEffect, type ProgrammeEffect, type ProgrammeRunner } from "./programme-effect.ts";
import { simulateHistory } from "./simulate-history.ts";

interface Programme {
  readonly runners: ProgrammeRunner[];
  readonly changes: number[];
}

function simulateProgramme(count: number, meanPercent: number, sdPercent: number, seed: number, runs = 3): Programme {
  const random = createRandom(seed);
  const changes = Array.from({ length: count }, () => meanPercent + sdPercent * random.normal());
  const runners = changes.map((changePercent, index) => ({
    id: `runner-${index + 1}`,
    ...simulateHistory(
      {
        beforeRunCount: runs,
        afterRunCount: runs,
        minutesPerRun: 12,
        changePercent,
        speedChangePercent: 4 * random.normal(),
        exponent: 0.15 + 0.03 * random.normal(),
        dayToDaySdPercent: 1.2,
        windowRho: 0.85,
        residualSdPercent: 0.8,
        positionErrorM: 3,
        speedBiasSdPercent: 1,
      },
      random.below(2 ** 31),
    ),
  }));
  return { runners, changes };
}

function effectOf(programme: Programme): ProgrammeEffect {
  const effect = programmeEffect(programme.runners);
  if ("kind" in effect) throw new Error(effect.need);
  return effect;
}

describe("programmeEffect", () => {
  it("simulation: finds the mean change, its spread, and the day-to-day spread of 30 runners", () => {
    const effect = effectOf(simulateProgramme(30, 4, 2, 3, 4));
    expect(effect.groupPercent.interval95.low).toBeLessThan(4);
    expect(effect.groupPercent.interval95.high).toBeGreaterThan(4);
    expectClose(effect.betweenRunnerSdPercent, 2, {
      atol: 0.9,
      because: "SD of 30 runners: 13 % standard error, three of them",
    });
    // 1.2 % from day to day and about 0.5 % of a run's own mean.
    expectClose(effect.dayToDaySdPercent, 1.3, { atol: 0.3, because: "180 degrees of freedom, three standard errors" });
    expect(effect.groupPercent.sampleCount).toBe(30);
    expect(effect.forest).toHaveLength(30);
    expect(effect.forest.map((row) => row.shrunkPercent.estimate)).toEqual(
      effect.forest.map((row) => row.shrunkPercent.estimate).toSorted((a, b) => b - a),
    );
  });

  it("simulation: the group interval holds the truth, and shrunk estimates are nearer the truth than own ones (60 programmes)", () => {
    let held = 0;
    let rows = 0;
    let rowsHeld = 0;
    let [ownError, shrunkError] = [0, 0];
    for (let seed = 1; seed <= 60; seed += 1) {
      const programme = simulateProgramme(12, 3, 1.5, seed, 2);
      const effect = effectOf(programme);
      const { low, high } = effect.groupPercent.interval95;
      if (low <= 3 && high >= 3) held += 1;
      for (const row of effect.forest) {
        const truth = programme.changes[Number(row.runnerId.split("-")[1]) - 1]!;
        if ("kind" in row.ownPercent) throw new Error("every runner has both sides");
        ownError += (row.ownPercent.estimate - truth) ** 2;
        shrunkError += (row.shrunkPercent.estimate - truth) ** 2;
        rows += 1;
        if (row.shrunkPercent.interval95.low <= truth && truth <= row.shrunkPercent.interval95.high) rowsHeld += 1;
      }
    }
    // Monte-Carlo standard error at 95 %: 2.8 points for the programmes, under 1.5 for the runners.
    expect(held / 60).toBeGreaterThan(0.86);
    expect(rowsHeld / rows).toBeGreaterThan(0.88);
    expect(shrunkError).toBeLessThan(0.85 * ownError);
  });

  it("property: a runner with one side only is shown at the group's mean and borrows everything", () => {
    const programme = simulateProgramme(8, 3, 1, 4);
    const oneSided = { ...programme.runners[0]!, after: [] };
    const effect = effectOf({ ...programme, runners: [oneSided, ...programme.runners.slice(1)] });
    const row = effect.forest.find((candidate) => candidate.runnerId === oneSided.id)!;
    expect(row.ownPercent).toMatchObject({ kind: "not-enough" });
    expect(row.ownShare).toBe(0);
    expect(Math.abs(row.shrunkPercent.estimate - effect.groupPercent.estimate)).toBeLessThan(1.5);
  });

  it("names runners without steady runs, and has no answer for too few", () => {
    const programme = simulateProgramme(5, 3, 1, 6);
    const effect = effectOf({ ...programme, runners: [{ id: "empty", before: [], after: [] }, ...programme.runners] });
    expect(effect.leftOut).toEqual(["empty"]);
    expect(programmeEffect(programme.runners.slice(0, 2))).toMatchObject({ kind: "not-enough" });
    expect(programmeEffect([])).toMatchObject({ kind: "not-enough" });
  });
});
