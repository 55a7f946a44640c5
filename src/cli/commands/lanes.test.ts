import { describe, expect, test } from "vitest";
import { runCli } from "../../../tests/run-cli.ts";

interface LanesJson {
  lanes: { beatSpm: number; members: { id: string; targetSpm: number; deviationShare: number }[] }[];
  unplaced: { id: string; reason: string }[];
}

const group = "name,target_spm,cap_spm\nAda,160,165\nBo,161,161.5\nCy,170,172\nDi,172,175\nEd,184,190\n";

describe("spondee lanes", () => {
  test("[L1] everyone is within the tolerance of their lane's beat, and everyone has a lane", async () => {
    const { lanes } = (await runCli(["lanes", "g.csv", "--json"], { "g.csv": group })).json<LanesJson>();
    expect(lanes.flatMap(({ members }) => members.map(({ id }) => id)).sort()).toEqual(["Ada", "Bo", "Cy", "Di", "Ed"]);
    expect(lanes).toHaveLength(3);
    for (const lane of lanes) {
      for (const { targetSpm } of lane.members)
        expect(Math.abs(lane.beatSpm / targetSpm - 1)).toBeLessThanOrEqual(0.015);
    }
  });

  test("[L2] no beat is above a member's cap", async () => {
    const { lanes } = (await runCli(["lanes", "g.csv", "--json"], { "g.csv": group })).json<LanesJson>();
    const withBo = lanes.find(({ members }) => members.some(({ id }) => id === "Bo"))!;
    expect(withBo.beatSpm).toBeLessThanOrEqual(161.5);
  });

  test("[L3] a fixed number of speakers is kept", async () => {
    const run = await runCli(["lanes", "g.csv", "--speakers", "2", "--json"], { "g.csv": group });
    expect(run.json<LanesJson>().lanes).toHaveLength(2);
  });

  test("semicolons, decimal commas and capitals in the header are read", async () => {
    const run = await runCli(["lanes", "g.csv", "--json"], { "g.csv": "Name;Target SPM\nAda;160,5\n" });
    expect(run.json<LanesJson>().lanes[0]?.members).toMatchObject([{ id: "Ada", targetSpm: 160.5 }]);
  });

  test.each([
    ["a missing column", "name\nAda\n", /g\.csv, column "target_spm"/],
    ["a text cell", "name,target_spm\nAda,fast\n", /row 1, column "target_spm".*"fast"/],
    ["a count of one foot", "name,target_spm\nAda,160\nBo,80\n", /row 2, column "target_spm".*both feet/],
    ["an empty cell", "name,target_spm\nAda,\n", /row 1, column "target_spm"/],
    ["no rows", "name,target_spm\n", /at least one row/],
    ["an empty file", "", /column "name"/],
  ])("%s ends with 3 and says where", async (_, content, message) => {
    const run = await runCli(["lanes", "g.csv", "--json"], { "g.csv": content });
    expect(run).toMatchObject({ exitCode: 3, stdout: "" });
    expect(run.stderr).toMatch(message);
  });
});
