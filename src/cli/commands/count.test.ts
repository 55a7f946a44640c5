import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { runCli } from "../../../tests/run-cli.ts";

interface Count {
  stepRateSpm: number;
  standardErrorSpm: number;
  low95: number;
  high95: number;
  warnings: { code: string; message: string }[];
}

describe("spondee count", () => {
  test("closed form: 78 contacts of one foot in a minute are 156 spm with an error of 2/√6", async () => {
    const run = await runCli(["count", "--count", "78", "--seconds", "60", "--feet", "one", "--json"]);
    const count = run.json<Count>();
    expectClose(count.stepRateSpm, 156, { rtol: 1e-12, because: "twice the contacts, exact" });
    expectClose(count.standardErrorSpm, 2 / Math.sqrt(6), { rtol: 1e-12, because: "sd of the triangular posterior" });
    expect(count.low95).toBeLessThan(156);
    expect(count.high95).toBeGreaterThan(156);
    expect(count.warnings).toEqual([]);
  });

  test("closed form: timing 50 contacts of one foot in 36 s gives 60 · 2 · 50 / 36", async () => {
    const run = await runCli(["count", "--contacts", "50", "--stopwatch", "36", "--feet", "one", "--json"]);
    expectClose(run.json<Count>().stepRateSpm, (60 * 2 * 50) / 36, { rtol: 1e-12, because: "identity" });
  });

  test.each(["0", "-3", "9999", "78.5"])(
    "a count of %s is unsuitable: exit 3, one line, nothing on stdout",
    async (count) => {
      const run = await runCli(["count", "--count", count, "--seconds", "60", "--feet", "one", "--json"]);
      expect(run).toMatchObject({ exitCode: 3, stdout: "" });
      expect(run.stderr.split("\n")).toHaveLength(1);
      expect(run.stderr).toContain(count);
    },
  );

  test("[M3] a both-feet number under one foot is queried, never converted", async () => {
    const run = await runCli(["count", "--count", "156", "--seconds", "60", "--feet", "one", "--json"]);
    const count = run.json<Count>();
    expect(count.stepRateSpm).toBe(312);
    expect(count.warnings.map(({ code }) => code)).toContain("feet-query");
  });

  test("[M2] two counts that contradict each other ask for another", async () => {
    const run = await runCli(["count", "--count", "78", "--seconds", "60", "--feet", "one", "--again", "86", "--json"]);
    expect(run.json<Count>().warnings.map(({ code }) => code)).toContain("counts-disagree");
  });

  test.each([
    [["--count", "78", "--seconds", "60"]],
    [["--count", "78", "--feet", "one"]],
    [["--count", "many", "--seconds", "60", "--feet", "one"]],
    [["--count", "78", "--seconds", "60", "--contacts", "50", "--stopwatch", "36", "--feet", "one"]],
    [["--feet", "left", "--count", "78", "--seconds", "60"]],
  ])("wrong usage ends with 2: %j", async (words) => {
    expect(await runCli(["count", ...words])).toMatchObject({ exitCode: 2, stdout: "" });
  });
});
