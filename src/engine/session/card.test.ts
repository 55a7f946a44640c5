import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { paceTable } from "../target/speed-curve.ts";
import { cardText, makeCard } from "./card.ts";
import { makeSession } from "./make-session.ts";
import { stepLengthAim, treadmillTable } from "./step-length.ts";
import { starterTemplates } from "./starter-templates.ts";

const values = {
  id: "2026-03-03",
  targetSpm: 166,
  baselineSpm: 160,
  speedMps: 2.8,
  mainMinutes: 20,
  cueShare: 1,
  firstOfStage: true,
} as const;

describe("a session card", () => {
  it("has a row a block, the shorter step, the drill used and the cautions", () => {
    const card = makeCard(makeSession(values), { runner: "Runner Twelve", baselineSpm: 160, speedMps: 2.8 });
    expect(card.rows.map((row) => `${row.what} ${row.length} ${row.beat}`)).toEqual([
      "Warm up 10 min no beat",
      "On the spot: Standing beat 2 min 166 spm",
      "Beat on 20 min 166 spm",
      "Beat off 3 min no beat",
      "Cool down 5 min no beat",
    ]);
    expect(card.stepLength).toBe("Steps about 4 cm shorter (1.01 m instead of 1.05 m).");
    expect(card.drills.map((drill) => drill.id)).toEqual(["standing-beat"]);
    expect(card.cautions.join(" ")).toContain("Stop at pain");
  });

  it("tells repeats once", () => {
    const card = makeCard(makeSession({ ...values, firstOfStage: false }, starterTemplates.trackRepeats));
    expect(card.rows.map((row) => `${row.times} × ${row.what} ${row.length}`)).toEqual([
      "1 × Warm up 10 min",
      "6 × Beat on 400 m",
      "6 × Beat off 200 m",
      "1 × Cool down 5 min",
    ]);
  });

  it("reads in the coach's units", () => {
    const units = { feet: "one", speed: "min-per-mile" } as const;
    const card = makeCard(makeSession(values), {
      baselineSpm: 160,
      speedMps: 2.8,
      units,
      paceTable: paceTable(166, 2.8, { exponent: 0.15 }),
    });
    expect(card.rows[2]!.beat).toBe("83 per foot");
    expect(card.stepLength).toContain("in shorter");
    expect(card.paces.every((pace) => pace.speed.endsWith("per mile") && pace.stepLength.endsWith("ft"))).toBe(true);
  });

  it("closed form: on a belt at 10 km/h the step is 60·10/3.6/160 = 1.04 m before and 1.00 m at the target", () => {
    const card = makeCard(makeSession(values), { baselineSpm: 160, beltSpeedsKmh: [10, 11] });
    expect(card.treadmill).toEqual({
      stepRates: ["160 spm", "166 spm"],
      rows: [
        { belt: "10 km/h", stepLengths: ["1.04 m", "1.00 m"] },
        { belt: "11 km/h", stepLengths: ["1.15 m", "1.10 m"] },
      ],
    });
    expect(cardText(card)).toContain("10 km/h: 1.04 m and 1.00 m");
    expect(makeCard(makeSession(values)).treadmill).toBeUndefined();
  });

  it("as plain text keeps every row and caution", () => {
    const card = makeCard(makeSession(values), { runner: "Runner Twelve", date: "Tuesday 3 March" });
    const text = cardText(card);
    expect(text.split("\n")[0]).toBe("Run with the beat · Runner Twelve · Tuesday 3 March");
    for (const row of card.rows) expect(text).toContain(`${row.what}, ${row.length}`);
    for (const caution of card.cautions) expect(text).toContain(caution);
  });
});

describe("step length", () => {
  it("closed form: at a fixed speed +5, +7.5 and +10 % steps are 4.762, 6.977 and 9.091 % shorter", () => {
    const share = (rise: number): number => {
      const aim = stepLengthAim(170, 170 * (1 + rise), 3);
      return (100 * aim.shorterM) / aim.beforeM;
    };
    expectClose([share(0.05), share(0.075), share(0.1)], [4.762, 6.977, 9.091], {
      atol: 0.0005,
      because: "three decimals",
    });
    expectClose(stepLengthAim(170, 180, 3).beforeM, 1.05882, { atol: 1e-5, because: "five decimals" });
  });

  it("closed form: the treadmill table is L = 60 v / f at every place", () => {
    const table = treadmillTable([10, 12], [160, 170]);
    expectClose(table.rows[0]!.stepLengthsM, [(60 * 10) / 3.6 / 160, (60 * 10) / 3.6 / 170], {
      rtol: 1e-14,
      because: "identity",
    });
    expect(table.rows.map((row) => row.speedKmh)).toEqual([10, 12]);
    expect(() => treadmillTable([0], [170])).toThrow("above 0");
  });

  it("turns that differ by the second of their rounding are told once, and the shorter step once, above them", () => {
    // 26.1 minutes, 41 % of it with the beat: four turns of 161 s and 160 s, and pauses of 231 s and 230 s.
    const cued = makeSession({
      id: "s",
      targetSpm: 165,
      baselineSpm: 160,
      speedMps: 2.7,
      mainMinutes: 26.1,
      cueShare: 0.41,
    });
    const card = makeCard(cued, { targetSpm: 165, baselineSpm: 160, speedMps: 2.7 });
    const main = card.rows.filter((row) => row.what === "Beat on" || (row.what === "Beat off" && row.times > 1));
    expect(main.map((row) => [row.what, row.times, row.length])).toEqual([
      ["Beat on", 4, "2:40 min"],
      ["Beat off", 4, "3:50 min"],
    ]);
    expect(card.stepLength).toContain("shorter");
    for (const row of card.rows) expect(row.note).not.toContain("shorter");
  });
});
