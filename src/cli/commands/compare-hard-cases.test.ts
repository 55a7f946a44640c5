// Recordings as they come: short, hilly, interrupted, at other speeds, with another receiver. A sane answer or a clear error each.
import { describe, expect, test } from "vitest";
import { runCli } from "../../../tests/run-cli.ts";
import { createRandom } from "../../engine/quantities/random.ts";

interface Answer {
  referenceSpeedMps: number;
  matchedSpeedChangeSpm: { estimate: number; low95: number; high95: number };
  speedChangePercent: number;
  finding: string;
  sentence: string;
  runsStillNeeded: number | null;
  lateRunDropSpm: { before: number | null; after: number | null };
  heartRateChangeBpm: { estimate: number } | null;
  overlap: { leansOnSlope: boolean };
  warnings: { code: string }[];
}

interface Wish {
  readonly minutes?: number;
  readonly speedMps?: number;
  readonly stepRateSpm?: number;
  /** What the receiver makes of a metre. */
  readonly scale?: number;
  /** Share of the step rate lost from the first to the last minute. */
  readonly fall?: number;
  readonly pauseEveryS?: number;
  readonly heartRateBpm?: number;
  readonly cadence?: boolean;
  readonly daySd?: number;
  /** Rise over run of a hill that goes up and down every ten minutes. */
  readonly slope?: number;
}

/** A CSV track, a row a second; 160 spm at 3 m/s and exponent 0.15 unless wished otherwise. */
function track(seed: number, wish: Wish = {}): string {
  const random = createRandom(seed);
  const day = 1 + (wish.daySd ?? 0.007) * random.normal();
  const seconds = 60 * (wish.minutes ?? 20);
  const columns = ["time_s", "speed_mps", ...(wish.cadence === false ? [] : ["step_rate_spm"])];
  if (wish.slope !== undefined) columns.push("elevation_m");
  let elevationM = 100;
  if (wish.heartRateBpm !== undefined) columns.push("heart_rate_bpm");
  const rows = Array.from({ length: seconds }, (_, s) => {
    const speed = (wish.speedMps ?? 3) * (1 + 0.03 * Math.sin(s / 40 + seed));
    const paused = wish.pauseEveryS !== undefined && s % wish.pauseEveryS > wish.pauseEveryS - 45;
    const slope = (wish.slope ?? 0) * (s % 600 < 300 ? 1 : -1);
    elevationM += slope * speed;
    const rate =
      (wish.stepRateSpm ?? 160) *
        day *
        (speed / 3) ** 0.15 *
        (1 + 0.5 * Math.max(0, slope)) *
        (1 - ((wish.fall ?? 0) * s) / seconds) +
      0.8 * random.normal();
    return [
      s,
      (paused ? 0 : speed * (wish.scale ?? 1)).toFixed(3),
      ...(wish.cadence === false ? [] : [(paused ? 0 : rate).toFixed(1)]),
      ...(wish.slope === undefined ? [] : [elevationM.toFixed(1)]),
      ...(wish.heartRateBpm === undefined ? [] : [Math.round(wish.heartRateBpm + random.normal())]),
    ].join(",");
  });
  return `${columns.join(",")}\n${rows.join("\n")}\n`;
}

const side = (name: string, count: number, firstSeed: number, wish: Wish = {}): Record<string, string> =>
  Object.fromEntries(
    Array.from({ length: count }, (_, k) => [`${name}-${k + 1}.csv`, track(firstSeed + k, wish)] as const),
  );

async function compare(before: Record<string, string>, after: Record<string, string>, more: string[] = []) {
  return runCli(["compare", "--before", ...Object.keys(before), "--after", ...Object.keys(after), ...more, "--json"], {
    ...before,
    ...after,
  });
}
async function answer(...input: Parameters<typeof compare>): Promise<Answer> {
  const run = await compare(...input);
  expect(run.stderr).toBe("");
  return run.json<Answer>();
}
const codes = ({ warnings }: Answer): string[] => warnings.map(({ code }) => code);

describe("spondee compare on recordings as they come", () => {
  test("--at-speed compares there, and says when nobody ran so fast", async () => {
    const [before, after] = [side("b", 3, 1), side("a", 3, 11, { stepRateSpm: 169 })];
    const there = await answer(before, after, ["--at-speed", "3.05"]);
    expect(there.referenceSpeedMps).toBe(3.05);
    expect(codes(there)).not.toContain("reference-speed-outside");
    const outside = await answer(before, after, ["--at-speed", "5"]);
    expect(codes(outside)).toContain("reference-speed-outside");
    expect((await compare(before, after, ["--at-speed", "0"])).exitCode).toBe(3);
    expect((await compare(before, after, ["--at-speed", "fast"])).exitCode).toBe(2);
  });

  test("every finding is said of the runs it is meant for", async () => {
    const before = side("b", 5, 1, { daySd: 0.004 });
    const found = async (wish: Wish): Promise<string> =>
      (await answer(before, side("a", 5, 31, { daySd: 0.004, ...wish }))).finding;
    expect(await found({ stepRateSpm: 170 })).toBe("changed");
    expect(await found({ stepRateSpm: 172, speedMps: 3.3 })).toBe("both");
    expect(await found({ speedMps: 3.4 })).toBe("faster-only");
    expect(await found({ stepRateSpm: 150 })).toBe("dropped");
    expect(await found({})).toBe("no-change");
    expect((await answer(side("b", 1, 1), side("a", 1, 9, { stepRateSpm: 180 }))).finding).toBe("not-enough-evidence");
  }, 30_000);

  test("speeds that hardly meet: the interval widens and it is said what it leans on", async () => {
    const before = side("b", 4, 1);
    const near = await answer(before, side("a", 4, 21));
    const far = await answer(before, side("a", 4, 21, { speedMps: 4.2 }));
    expect(far.overlap.leansOnSlope).toBe(true);
    expect(codes(far)).toContain("little-overlap");
    expect(far.sentence).toContain("leans on the usual slope");
    const width = ({ matchedSpeedChangeSpm: { low95, high95 } }: Answer): number => high95 - low95;
    expect(width(far)).toBeGreaterThan(1.5 * width(near));
  });

  test("runs of eight minutes are compared on the five that are left; of three minutes they are refused by name", async () => {
    const short = await answer(side("b", 3, 1, { minutes: 8 }), side("a", 3, 11, { minutes: 8, stepRateSpm: 172 }));
    expect(short.finding).toBe("changed");
    expect(short.lateRunDropSpm).toEqual({ before: null, after: null });
    const run = await compare(side("b", 3, 1), side("a", 1, 11, { minutes: 3 }));
    expect(run).toMatchObject({ exitCode: 3, stdout: "" });
    expect(run.stderr).toContain("a-1.csv");
    expect(run.stderr).toContain("four minutes");
  });

  test("stops every four minutes neither end the comparison nor move the answer", async () => {
    const stopped = { pauseEveryS: 240 };
    const paused = await answer(side("b", 4, 1, stopped), side("a", 4, 21, { ...stopped, stepRateSpm: 168 }));
    expect(paused.matchedSpeedChangeSpm.low95).toBeLessThan(8);
    expect(paused.matchedSpeedChangeSpm.high95).toBeGreaterThan(8);
    expect(paused.finding).toBe("changed");
  });

  test("a receiver that says 2 % more speed after than before does not make a change", async () => {
    const { finding, matchedSpeedChangeSpm } = await answer(side("b", 4, 1), side("a", 4, 21, { scale: 1.02 }));
    expect(["no-change", "not-enough-evidence"]).toContain(finding);
    expect(matchedSpeedChangeSpm.low95).toBeLessThan(0);
    expect(matchedSpeedChangeSpm.high95).toBeGreaterThan(0);
  });

  test("a fall of 4 % over the run is told as a late-run drop of about two thirds of it, negative", async () => {
    const { lateRunDropSpm } = await answer(side("b", 2, 1), side("a", 2, 21, { minutes: 30, fall: 0.04 }));
    expect(Math.abs(lateRunDropSpm.before ?? 99)).toBeLessThan(1);
    // 27 of 30 minutes are steady: 4 % of 160 over the run is 5.8 over them, and two thirds of that lie between the outer thirds.
    expect(lateRunDropSpm.after).toBeGreaterThan(-3.8 - 1);
    expect(lateRunDropSpm.after).toBeLessThan(-3.8 + 1);
  });

  test("hilly after level: steep minutes are used, corrected and said, and hills alone are no change", async () => {
    const hilly = await answer(side("b", 4, 1), side("a", 4, 21, { slope: 0.05, minutes: 30 }));
    expect(["no-change", "not-enough-evidence"]).toContain(hilly.finding);
    expect(codes(hilly)).toContain("steep-run");
  });

  test("heart rate at the same speed comes with it where both sides have it, and is null where they do not", async () => {
    const [before, after] = [side("b", 3, 1, { heartRateBpm: 150 }), side("a", 3, 11, { heartRateBpm: 156 })];
    const { heartRateChangeBpm } = await answer(before, after);
    expect(heartRateChangeBpm?.estimate).toBeGreaterThan(4.5);
    expect(heartRateChangeBpm?.estimate).toBeLessThan(7.5);
    expect((await answer(side("b", 3, 1), after)).heartRateChangeBpm).toBeNull();
  });

  test("the plain text says how days differ and what looking often allows", async () => {
    const files = { ...side("b", 3, 1), ...side("a", 3, 11, { stepRateSpm: 172 }) };
    const names = (letter: string): string[] => Object.keys(files).filter((name) => name.startsWith(letter));
    const { stdout } = await runCli(["compare", "--before", ...names("b"), "--after", ...names("a")], files);
    expect(stdout).toMatch(/From day to day this runner differs by about \d\.\d %/);
    expect(stdout).toContain("holds however often one looks");
  });

  test("without a step rate on a side: exit 3, the file and what to do", async () => {
    const run = await compare(side("b", 2, 1), side("a", 2, 11, { cadence: false }));
    expect(run).toMatchObject({ exitCode: 3, stdout: "" });
    expect(run.stderr).toContain("a-1.csv");
  });

  test("the same answer however the files are ordered", async () => {
    const [before, after] = [side("b", 3, 1), side("a", 3, 11, { stepRateSpm: 166 })];
    const turned = Object.fromEntries(Object.entries(after).toReversed());
    const [one, other] = [await answer(before, after), await answer(before, turned)];
    expect(other.matchedSpeedChangeSpm.estimate).toBeCloseTo(one.matchedSpeedChangeSpm.estimate, 9);
    expect(other.finding).toBe(one.finding);
  });
});
