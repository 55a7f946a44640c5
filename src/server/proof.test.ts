import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { countOf, gpx } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";

describe.each(storeVariants)("what stands beside a finding, on $name", (variant) => {
  let server: TestServer;
  let groupId: string;
  beforeEach(async () => {
    server = await startTestServer(variant);
    groupId = await server.group();
  });
  afterEach(() => server.close());

  let seed = 0;
  const record = async (runnerId: string, phase: "before" | "after", stepRateSpm: number, effort?: number) => {
    seed += 1;
    await server.coach.ok("PUT /api/runners/:runnerId/recordings/:recordingId", {
      params: { runnerId, recordingId: server.id() },
      query: { fileName: `run-${seed}.gpx`, phase, ...(effort === undefined ? {} : { effortRating: effort }) },
      file: gpx(seed, { stepRateSpm }),
    });
  };
  const comparison = async (runnerId: string) => {
    const answer = await server.coach.ok("GET /api/runners/:runnerId/comparison", { params: { runnerId }, query: {} });
    if (answer.kind !== "comparison") throw new Error(answer.have);
    return answer;
  };

  test("day-to-day spread and exponent are borrowed from the other runners once six of them have four runs, and it is said", async () => {
    const runnerId = await server.runner(groupId, "Odalys Brandt");
    for (const phase of ["before", "after"] as const)
      for (let k = 0; k < 2; k += 1) await record(runnerId, phase, phase === "before" ? 160 : 168);
    const alone = await comparison(runnerId);
    expect(alone.borrowed.join(" ")).toContain("from published studies");
    for (const name of ["A", "B", "C", "D", "E", "F"]) {
      const other = await server.runner(groupId, name);
      for (let k = 0; k < 4; k += 1) await record(other, "before", 162);
    }
    // The others are computed when somebody looks; then this runner's next look borrows.
    await server.coach.ok("GET /api/groups/:groupId/week", { params: { groupId }, query: { on: "2026-03-05" } });
    await record(runnerId, "after", 168);
    const borrowed = await comparison(runnerId);
    expect(borrowed.borrowed.join(" ")).toContain("6 other runners of the group");
    expect(borrowed.borrowed.join(" ")).toMatch(/itself \d+ % published studies/);
    const width = ({ details }: typeof alone): number =>
      details.dayToDaySdPercent.high95 / details.dayToDaySdPercent.low95;
    expect(width(borrowed)).toBeLessThan(width(alone));
  }, 30_000);

  test("effort before and after, the weeks and the repeats come with the comparison", async () => {
    const runnerId = await server.runner(groupId, "Odalys Brandt");
    await server.coach.ok("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: server.id() },
      body: countOf(80),
    });
    for (let k = 0; k < 3; k += 1) await record(runnerId, "before", 160, 4);
    for (let k = 0; k < 3; k += 1) await record(runnerId, "after", 168, 6);
    const { details } = await comparison(runnerId);
    expect(details.cost.effort.overall?.estimate).toBeCloseTo(2, 9);
    expect(details.cost.heartRateBpm.overall).toBeNull();
    expect(details.weeks?.points).toHaveLength(6);
    expect(details.weeks?.trendSpmPerWeek?.estimate).toBeGreaterThan(5);
    expect(details.weeks?.repeats?.runCount).toBe(3);
    expect(["changed", "go-on"]).toContain(details.everyLook.verdict);
  }, 30_000);
});
