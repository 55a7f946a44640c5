import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { runCli } from "../../../tests/run-cli.ts";

interface ProposalJson {
  advice: string;
  targetSpm: { low: number; high: number } | null;
  stages: number[];
  paceTable: { speedMps: number; stepRateSpm: number; stepLengthM: number }[];
  reasons: { text: string; sources: string[] }[];
  cautions: string[];
}

const propose = async (...words: string[]) => (await runCli(["propose", ...words, "--json"])).json<ProposalJson>();

describe("spondee propose", () => {
  test("[T3] a low baseline is answered with a rise in stages, reasons with sources, and cautions", async () => {
    const proposal = await propose("--baseline", "160", "--speed", "2.9");
    expect(proposal.advice).toBe("change");
    expect(proposal.stages[0]).toBeGreaterThan(160);
    expect(proposal.targetSpm!.low).toBeGreaterThan(160);
    expect(proposal.reasons.some(({ sources }) => sources.length > 0)).toBe(true);
    expect(proposal.cautions.join(" ")).toMatch(/stop at pain/i);
  });

  test("closed form: every row of the pace table obeys step length = 60 · speed / step rate", async () => {
    const { paceTable } = await propose("--baseline", "160", "--speed", "2.9");
    expect(paceTable.length).toBeGreaterThan(2);
    expectClose(
      paceTable.map((row) => row.stepLengthM),
      paceTable.map((row) => (60 * row.speedMps) / row.stepRateSpm),
      { rtol: 1e-12, because: "identity" },
    );
  });

  test("[T2] a baseline inside the band is left alone", async () => {
    expect(await propose("--baseline", "175", "--speed", "3")).toMatchObject({
      advice: "leave-alone",
      targetSpm: null,
      stages: [],
    });
  });

  test("[T6] pain now refers", async () => {
    expect((await propose("--baseline", "158", "--speed", "2.8", "--pain", "4")).advice).toBe("refer");
  });

  test("[T5] a bone history halves the stages and keeps below +5 %", async () => {
    const careful = await propose("--baseline", "158", "--speed", "2.8", "--history", "bone");
    expect(Math.max(...careful.stages)).toBeLessThanOrEqual(158 * 1.05);
    const usual = await propose("--baseline", "158", "--speed", "2.8");
    expect(careful.stages[0]! - 158).toBeLessThan(usual.stages[0]! - 158);
  });

  test.each([
    ["a count of one foot", ["--baseline", "79", "--speed", "2.8"], /for a count of one foot add --per-foot/],
    ["an impossible speed", ["--baseline", "160", "--speed", "28"], /--speed/],
    ["pain beyond the scale", ["--baseline", "160", "--speed", "2.8", "--pain", "11"], /--pain/],
  ])("%s ends with 3", async (_, words, message) => {
    const run = await runCli(["propose", ...words, "--json"]);
    expect(run).toMatchObject({ exitCode: 3, stdout: "" });
    expect(run.stderr).toMatch(message);
  });

  test("without a speed, or with an unknown history, the usage is wrong", async () => {
    expect((await runCli(["propose", "--baseline", "160"])).exitCode).toBe(2);
    expect((await runCli(["propose", "--baseline", "160", "--speed", "3", "--history", "knee"])).exitCode).toBe(2);
  });

  test("closed form: one foot and miles are the same runner: 80 per foot at 9:35 per mile is 160 spm at 1609.344/575 m/s", async () => {
    const metric = await propose("--baseline", "160", "--speed", String(1609.344 / 575), "--goal", "168");
    const imperial = await propose("--baseline", "80", "--per-foot", "--pace", "9:35", "--miles", "--goal", "84");
    expect(imperial).toEqual(metric);
    const { stdout } = await runCli(["propose", "--baseline", "80", "--per-foot", "--pace", "9:35", "--miles"]);
    expect(stdout).toContain("81 per foot, 82 per foot");
    expect(stdout).toContain("9:35 per mile");
    expect(stdout).toContain(" ft");
    expect(stdout).toContain("The reasons count both feet:");
    expect(stdout).not.toMatch(/\d m\b|per km/);
  });

  test.each([
    ["both feet under --per-foot", ["--baseline", "160", "--per-foot", "--pace", "5:57"], /leave --per-foot out/, 3],
    ["a pace without a colon", ["--baseline", "160", "--pace", "5.57"], /minutes and seconds per km, like 5:57/, 3],
    ["a pace per km called per mile", ["--baseline", "160", "--pace", "2:30", "--miles"], /per mile/, 3],
    ["a pace as speed", ["--baseline", "160", "--speed", "9:00"], /--speed takes a number/, 2],
    ["pace and speed", ["--baseline", "160", "--speed", "2.8", "--pace", "5:57"], /not both/, 2],
    ["neither", ["--baseline", "160"], /--pace is missing/, 2],
    ["an option that is not there", ["--baseline", "160", "--feet", "one"], /Unknown option '--feet'\. See/, 2],
  ])("wrong input, %s, is told in one sentence", async (_, words, message, exitCode) => {
    const run = await runCli(["propose", ...words]);
    expect(run.exitCode).toBe(exitCode);
    expect(run.stdout).toBe("");
    expect(run.stderr).toMatch(message);
    expect(run.stderr.split("\n")).toHaveLength(1);
  });
});
