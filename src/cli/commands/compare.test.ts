import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { inventedFiles } from "../../../tests/invented-runs.ts";
import { runCli } from "../../../tests/run-cli.ts";

interface CompareJson {
  referenceSpeedMps: number;
  matchedSpeedChangeSpm: { estimate: number; low95: number; high95: number };
  rawChangeSpm: number;
  speedChangePercent: number;
  split: {
    stepRateShare: number | null;
    stepLengthShare: number | null;
    lnSpeed: number;
    lnStepRate: number;
    lnStepLength: number;
  };
  finding: string;
  runsStillNeeded: number | null;
  lateRunDropSpm: { before: number | null; after: number | null };
  warnings: { code: string }[];
}

const before = inventedFiles("before", 4, { speedMps: 3, stepRateSpm: 160 }, 100);

async function compare(after: Record<string, string>, beforeFiles = before): Promise<CompareJson> {
  const words = ["compare", "--before", ...Object.keys(beforeFiles), "--after", ...Object.keys(after), "--json"];
  const run = await runCli(words, { ...beforeFiles, ...after });
  expect(run.stderr).toBe("");
  return run.json<CompareJson>();
}

describe("spondee compare", () => {
  test("simulation: +5 % at the same speed over four runs a side is found as changed, and the truth is in the interval", async () => {
    const comparison = await compare(inventedFiles("after", 4, { speedMps: 3, stepRateSpm: 168 }, 200));
    expect(comparison.finding).toBe("changed");
    expect(comparison.matchedSpeedChangeSpm.low95).toBeLessThan(8);
    expect(comparison.matchedSpeedChangeSpm.high95).toBeGreaterThan(8);
    expect(comparison.matchedSpeedChangeSpm.low95).toBeGreaterThan(0);
    expect(Math.abs(comparison.speedChangePercent)).toBeLessThan(3);
  });

  test("simulation: six runners who only ran 12 % faster: five or more are told so, none is called changed", async () => {
    const findings: string[] = [];
    for (let runner = 0; runner < 6; runner += 1) {
      const seed = 1000 + 20 * runner;
      const comparison = await compare(
        inventedFiles("after", 4, { speedMps: 3.36, stepRateSpm: 160 }, seed),
        inventedFiles("before", 4, { speedMps: 3, stepRateSpm: 160 }, seed + 10),
      );
      findings.push(comparison.finding);
      expect(comparison.speedChangePercent).toBeGreaterThan(9);
      expect(comparison.split.stepLengthShare!).toBeGreaterThan(0.6);
    }
    expect(findings.filter((finding) => finding === "faster-only").length).toBeGreaterThanOrEqual(5);
    expect(findings.filter((finding) => finding === "changed" || finding === "both")).toEqual([]);
  });

  test("closed form: the split adds up, ln v = ln f + ln L", async () => {
    const { split } = await compare(inventedFiles("after", 2, { speedMps: 3.3, stepRateSpm: 166 }, 400));
    expectClose(split.lnStepRate + split.lnStepLength, split.lnSpeed, { atol: 1e-12, because: "identity" });
    expectClose(split.stepRateShare! + split.stepLengthShare!, 1, { atol: 1e-12, because: "shares of one whole" });
  });

  test("[D11] one run on a side is never proof", async () => {
    const one = { "before-1.gpx": before["before-1.gpx"]! };
    const comparison = await compare(inventedFiles("after", 4, { speedMps: 3, stepRateSpm: 176 }, 500), one);
    expect(comparison.finding).toBe("not-enough-evidence");
    expect(comparison.runsStillNeeded).toBeGreaterThan(0);
  });

  test("[M4] treadmill and outdoor runs are not compared", async () => {
    const belt = "time_s,speed_mps,cadence_spm,surface\n";
    const run = await runCli(["compare", "--before", "before-1.gpx", "--after", "belt.csv", "--json"], {
      ...before,
      "belt.csv": `${belt}${Array.from({ length: 900 }, (_, s) => `${s},3,165,treadmill`).join("\n")}\n`,
    });
    // Either the reader knows the surface and the comparison refuses, or the surface stays unknown and is said.
    expect(run.exitCode === 3 || run.stdout.includes("surface")).toBe(true);
  });

  test("an unreadable file on either side ends with 3 and names it", async () => {
    const run = await runCli(["compare", "--before", "before-1.gpx", "--after", "junk.gpx", "--json"], {
      ...before,
      "junk.gpx": new Uint8Array([0, 1, 2, 255, 254, 0, 9]),
    });
    expect(run).toMatchObject({ exitCode: 3, stdout: "" });
    expect(run.stderr).toContain("junk.gpx");
  });

  test("a side without a step rate ends with 3 and names its file", async () => {
    const still = before["before-1.gpx"]!.replaceAll(/<f:cad>\d+<\/f:cad>/g, "");
    const run = await runCli(["compare", "--before", "before-1.gpx", "--after", "no-cadence.gpx", "--json"], {
      ...before,
      "no-cadence.gpx": still,
    });
    expect(run).toMatchObject({ exitCode: 3, stdout: "" });
    expect(run.stderr).toContain("no-cadence.gpx");
  });

  test("a side without files is wrong usage", async () => {
    expect((await runCli(["compare", "--before", "before-1.gpx"], before)).exitCode).toBe(2);
    expect((await runCli(["compare", "x.gpx", "--before", "a", "--after", "b"])).exitCode).toBe(2);
  });
});
