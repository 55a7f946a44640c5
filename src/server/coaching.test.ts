// A coach's own way with plans: edits, late calendars, own aims, own templates and drills.
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { CallOutput } from "../api/index.ts";
import { countOf } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";

type Plan = Extract<CallOutput<"GET /api/runners/:runnerId/plan">, { kind: "plan" }>;

describe.each(storeVariants)("coaching on $name", (variant) => {
  let server: TestServer;
  let groupId: string;
  let runnerId: string;
  beforeEach(async () => {
    server = await startTestServer(variant);
    groupId = await server.group();
    runnerId = await counted(79);
    await server.coach.ok("PUT /api/runners/:runnerId/proposal", { params: { runnerId }, body: {} });
  });
  afterEach(() => server.close());

  async function counted(contacts: number): Promise<string> {
    const id = await server.runner(groupId);
    for (const more of [0, 1])
      await server.coach.ok("PUT /api/runners/:runnerId/counts/:countId", {
        params: { runnerId: id, countId: server.id() },
        body: countOf(contacts + more),
      });
    return id;
  }
  async function planNow(): Promise<Plan> {
    const plan = await server.coach.ok("GET /api/runners/:runnerId/plan", { params: { runnerId } });
    if (plan.kind !== "plan") throw new Error("no plan");
    return plan;
  }

  test("a plan is made as wished: evening, race, away, fading, session", async () => {
    await server.coach.ok("PUT /api/groups/:groupId", {
      params: { groupId },
      body: {
        name: "Invented",
        startsOn: "2026-03-05",
        weeks: 10,
        eveningWeekday: 4,
        timeZone: "UTC",
        holidays: ["2026-03-19"],
      },
    });
    await server.coach.ok("POST /api/runners/:runnerId/plan", {
      params: { runnerId },
      body: {
        startsOn: "2026-03-09",
        sessionsPerWeek: 2,
        groupWeekday: 1,
        raceDate: "2026-06-06",
        away: [{ from: "2026-03-23", to: "2026-03-29" }],
        cueSchedule: { kind: "constant", share: 0.5 },
        templateId: "drills-and-beat",
        groupTemplateId: "track-repeats",
      },
    });
    const plan = await planNow();
    expect(plan).toMatchObject({
      raceDate: "2026-06-06",
      groupWeekday: 1,
      sessionsPerWeek: 2,
      templateId: "drills-and-beat",
      groupTemplateId: "track-repeats",
      away: [{ from: "2026-03-23", to: "2026-03-29" }],
    });
    expect(plan.sessions.some(({ on }) => on >= "2026-03-23" && on <= "2026-03-29")).toBe(false);
    expect(plan.sessions.some(({ on }) => on === "2026-03-19")).toBe(false);
    const [first, second] = plan.sessions;
    expect(first).toMatchObject({ on: "2026-03-09", inPerson: true });
    expect(first?.session.title).toBe("Track repeats with the beat");
    expect(second?.session.blocks.some((block) => block.drillId === "quick-feet")).toBe(true);
    expect(second?.cueShare).toBe(0.5);
    const wrong = await server.coach.call("POST /api/runners/:runnerId/plan", {
      params: { runnerId },
      body: { templateId: "nobody" },
    });
    expect(wrong.problem.code).toBe("unknown-template");
  });

  test("a session moves, shrinks, goes and comes back; each change can be undone", async () => {
    const before = await planNow();
    const [, second, third] = before.sessions;
    const params = { runnerId, on: second?.on ?? "" };
    const moved = await server.coach.ok("PUT /api/runners/:runnerId/plan/sessions/:on", {
      params,
      body: { moveTo: "2026-03-06", mainMinutes: 9 },
    });
    const there = moved.item.kind === "plan" ? moved.item.sessions.find(({ on }) => on === "2026-03-06") : undefined;
    expect(there).toMatchObject({ editedFrom: second?.on, mainMinutes: 9 });
    const taken = await server.coach.call("PUT /api/runners/:runnerId/plan/sessions/:on", {
      params: { runnerId, on: third?.on ?? "" },
      body: { moveTo: "2026-03-06" },
    });
    expect(taken.problem.code).toBe("session-day-taken");
    await server.coach.ok("PUT /api/runners/:runnerId/plan/sessions/:on", {
      params: { runnerId, on: third?.on ?? "" },
      body: { skipped: true },
    });
    expect((await planNow()).skippedOn).toEqual([third?.on]);
    await server.coach.ok("PUT /api/runners/:runnerId/plan/sessions/:on", {
      params: { runnerId, on: third?.on ?? "" },
      body: { reset: true },
    });
    await server.coach.ok("PUT /api/runners/:runnerId/plan/sessions/:on", {
      params: { runnerId, on: "2026-03-06" },
      body: { reset: true },
    });
    expect((await planNow()).sessions).toEqual(before.sessions);
    await server.coach.ok("POST /api/groups/:groupId/changes/:changeId/undo", {
      params: {
        groupId,
        changeId:
          (await server.coach.ok("GET /api/groups/:groupId/changes", { params: { groupId }, query: {} })).items[0]
            ?.id ?? "",
      },
    });
    expect((await planNow()).sessions.some(({ on }) => on === "2026-03-06")).toBe(true);
  });

  test("a stage that has not begun takes another target, within the rules", async () => {
    const { rungsSpm } = await planNow();
    const third = rungsSpm[2] ?? 0;
    const changed = await server.coach.ok("PUT /api/runners/:runnerId/plan/rungs/:rung", {
      params: { runnerId, rung: "2" },
      body: { stepRateSpm: third - 1 },
    });
    expect(changed.item.kind === "plan" ? changed.item.rungsSpm[2] : 0).toBe(third - 1);
    const tooFar = await server.coach.call("PUT /api/runners/:runnerId/plan/rungs/:rung", {
      params: { runnerId, rung: "2" },
      body: { stepRateSpm: third + 12 },
    });
    expect(tooFar.problem.code).toBe("stage-step");
  });

  test("a late holiday moves one plan, or everyone's, as one change", async () => {
    const before = await planNow();
    const week = before.stages[2];
    const away = [{ from: week?.startsOn ?? "", to: week?.endsOn ?? "" }];
    const late = await server.coach.ok("PUT /api/runners/:runnerId/plan/calendar", {
      params: { runnerId },
      body: { away, groupWeekday: null },
    });
    if (late.item.kind !== "plan") throw new Error("no plan");
    expect(late.item.missedWeeks).toEqual([week?.startsOn]);
    expect(late.item.groupWeekday).toBe(null);
    expect(late.item.endsOn > before.endsOn).toBe(true);
    const other = await counted(80);
    await server.coach.ok("PUT /api/runners/:runnerId/proposal", { params: { runnerId: other }, body: {} });
    await server.coach.ok("PUT /api/groups/:groupId", {
      params: { groupId },
      body: {
        name: "Invented",
        startsOn: "2026-03-05",
        weeks: 10,
        eveningWeekday: 2,
        timeZone: "UTC",
        holidays: ["2026-03-17"],
        raceDate: "2026-08-01",
      },
    });
    const all = await server.coach.ok("PUT /api/groups/:groupId/plans/calendar", { params: { groupId } });
    expect([...all.changed].sort()).toEqual([other, runnerId].sort());
    const after = await planNow();
    expect(after).toMatchObject({ groupWeekday: 2, raceDate: "2026-08-01", away });
    expect(after.sessions.some(({ on }) => on === "2026-03-17")).toBe(false);
    expect((await server.coach.ok("PUT /api/groups/:groupId/plans/calendar", { params: { groupId } })).changed).toEqual(
      [],
    );
  });

  test("[D10] the coach's own aim needs a reason after the advice to refer, and is kept with it", async () => {
    const sore = await counted(79);
    await server.coach.ok("PUT /api/runners/:runnerId/pain/:entryId", {
      params: { runnerId: sore, entryId: server.id() },
      body: { score: 6, at: "2026-03-05T17:00:00Z" },
    });
    const own = { params: { runnerId: sore } };
    expect((await server.coach.ok("GET /api/runners/:runnerId/proposal", own)).computed.advice).toBe("refer");
    const bare = await server.coach.call("PUT /api/runners/:runnerId/proposal", { ...own, body: { targetSpm: 164 } });
    expect(bare.problem.code).toBe("aim-needs-reason");
    const set = await server.coach.ok("PUT /api/runners/:runnerId/proposal", {
      ...own,
      body: { targetSpm: 164, reason: "Cleared by the physiotherapist." },
    });
    expect(set.item.accepted).toMatchObject({ advice: "change", targetSpm: 164, changedByCoach: true });
    expect(set.item.accepted?.proposal.reasons[0]).toMatchObject({ rule: "D10" });
    expect(set.item.accepted?.proposal.reasons[0]?.text).toContain("Cleared by the physiotherapist.");
    expect((await server.coach.ok("GET /api/runners/:runnerId/plan", own)).kind).toBe("plan");
    const over = await server.coach.call("PUT /api/runners/:runnerId/proposal", {
      ...own,
      body: { targetSpm: 190, reason: "Hurry." },
    });
    expect(over.problem.code).toBe("aim-outside-cap");
  });

  test("own templates and drills: checked, used in plans, undone, and no drill is pulled from under a session", async () => {
    const templateId = server.id();
    const drillId = server.id();
    const drill = {
      name: "Skipping",
      howTo: "Skip lightly for ten steps, walk ten.",
      minutes: 2,
      whatToFeel: "Springy ankles.",
      cautions: ["Stop if anything hurts."],
      standing: false,
    };
    const put = (steps: object[]) =>
      server.coach.call("PUT /api/groups/:groupId/templates/:templateId", {
        params: { groupId, templateId },
        body: { title: "Skips and beat", steps: steps as never },
      });
    const skips = { step: "block", kind: "drill", durationS: 120, beat: "none", drillId };
    expect((await put([skips, { step: "main" }])).problem.problems?.map(({ code }) => code)).toEqual(["unknown-drill"]);
    const careless = await server.coach.call("PUT /api/groups/:groupId/drills/:drillId", {
      params: { groupId, drillId },
      body: { ...drill, cautions: [] },
    });
    expect(careless.problem.code).toBe("drill-cautions");
    await server.coach.ok("PUT /api/groups/:groupId/drills/:drillId", { params: { groupId, drillId }, body: drill });
    expect((await put([skips, { step: "main" }])).status).toBe(200);
    expect((await put([{ ...skips, distanceM: 100 }, { step: "main" }, { step: "main" }])).problem.problems).toEqual([
      expect.objectContaining({ code: "template-two-mains" }),
      expect.objectContaining({ code: "block-length-unclear" }),
    ]);
    const practice = await server.coach.ok("GET /api/groups/:groupId/practice", { params: { groupId } });
    expect(practice.templates.filter(({ own }) => own).map(({ title }) => title)).toEqual(["Skips and beat"]);
    expect(practice.drills.filter(({ own }) => own).map(({ name }) => name)).toEqual(["Skipping"]);
    expect(practice.drills.length).toBeGreaterThan(5);
    await server.coach.ok("POST /api/runners/:runnerId/plan", { params: { runnerId }, body: { templateId } });
    expect((await planNow()).sessions[0]?.session.blocks[0]?.drillId).toBe(drillId);
    const inUse = await server.coach.call("DELETE /api/groups/:groupId/drills/:drillId", {
      params: { groupId, drillId },
    });
    expect(inUse.problem.code).toBe("drill-in-use");
    const { changeId } = await server.coach.ok("DELETE /api/groups/:groupId/templates/:templateId", {
      params: { groupId, templateId },
    });
    // The plan keeps the sessions that it has.
    expect((await planNow()).sessions[0]?.session.blocks[0]?.drillId).toBe(drillId);
    await server.coach.ok("POST /api/groups/:groupId/changes/:changeId/undo", {
      params: { groupId, changeId: changeId ?? "" },
    });
    const stranger = await server.account("stranger");
    const theirs = await server.group(stranger);
    const stolen = await stranger.call("PUT /api/groups/:groupId/templates/:templateId", {
      params: { groupId: theirs, templateId },
      body: { title: "Stolen", steps: [{ step: "main" }] },
    });
    expect(stolen.status).toBe(409);
    expect(
      (
        await server.coach.call("DELETE /api/groups/:groupId/templates/:templateId", {
          params: { groupId, templateId: drillId },
        })
      ).status,
    ).toBe(404);
  });

  test("the evening's sheet has everyone with a session, by lane, and says who is missing and why", async () => {
    const bare = await server.runner(groupId, "Without Count");
    const sheet = await server.coach.ok("GET /api/groups/:groupId/sheet", {
      params: { groupId },
      query: { on: "2026-03-05" },
    });
    expect(sheet.rows).toEqual([
      expect.objectContaining({ runnerId, laneNumber: 1, beatSpm: sheet.lanes[0]?.beatSpm }),
    ]);
    expect(sheet.rows[0]?.planned.session.blocks.length).toBeGreaterThan(2);
    expect(sheet.without).toEqual([{ runnerId: bare, name: "Without Count", why: "no-plan" }]);
  });
});
