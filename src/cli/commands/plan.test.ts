import ICAL from "ical.js";
import { describe, expect, test } from "vitest";
import { runCli } from "../../../tests/run-cli.ts";

interface PlanJson {
  capSpm: number;
  stages: {
    stepRateSpm: number;
    startsOn: string;
    endsOn: string;
    sessions: { date: string; session: { blocks: unknown[] } }[];
  }[];
  recallChecks: { date: string }[];
}

const words = ["plan", "--baseline", "158", "--speed", "2.8", "--start", "2026-03-02", "--evening", "wed"];

describe("spondee plan", () => {
  test("[P1] stages rise by at most 2 spm and stay below the cap; every session has a date inside its stage", async () => {
    const plan = (await runCli([...words, "--json"])).json<PlanJson>();
    const rates = [158, ...plan.stages.map(({ stepRateSpm }) => stepRateSpm)];
    for (let at = 1; at < rates.length; at += 1) expect(rates[at]! - rates[at - 1]!).toBeLessThanOrEqual(2);
    expect(Math.max(...rates)).toBeLessThanOrEqual(plan.capSpm);
    for (const stage of plan.stages) {
      for (const { date } of stage.sessions) expect(date >= stage.startsOn && date <= stage.endsOn).toBe(true);
    }
    expect(plan.recallChecks.length).toBeGreaterThan(0);
  });

  test("away days get no session", async () => {
    const plan = (await runCli([...words, "--away", "2026-03-16..2026-03-22", "--json"])).json<PlanJson>();
    const dates = plan.stages.flatMap(({ sessions }) => sessions.map(({ date }) => date));
    expect(dates.filter((date) => date >= "2026-03-16" && date <= "2026-03-22")).toEqual([]);
  });

  test("outside tool: the iCalendar file is read by a library, one event a session and recall check", async () => {
    const run = await runCli([...words, "--ics", "plan.ics", "--json"]);
    const plan = run.json<PlanJson>();
    const text = new TextDecoder().decode(run.written.get("plan.ics"));
    const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent");
    const dates = [...plan.stages.flatMap(({ sessions }) => sessions), ...plan.recallChecks].map(({ date }) => date);
    expect(events.map((event) => String(event.getFirstPropertyValue("dtstart"))).sort()).toEqual(dates.sort());
  });

  test.each([
    ["a date that does not exist", ["--start", "2026-02-30"]],
    ["an unknown protocol", ["--protocol", "no-such"]],
    ["a range that goes backwards", ["--away", "2026-04-01..2026-03-01"]],
  ])("%s ends with 3", async (_, more) => {
    const run = await runCli(["plan", "--baseline", "158", "--speed", "2.8", ...more, "--json"]);
    expect(run).toMatchObject({ exitCode: 3, stdout: "" });
  });

  test("a runner to be left alone or referred gets no plan, and is told why", async () => {
    expect((await runCli(["plan", "--baseline", "176", "--speed", "3"])).exitCode).toBe(3);
    const hurt = await runCli(["plan", "--baseline", "158", "--speed", "2.8", "--pain", "5"]);
    expect(hurt.exitCode).toBe(3);
    expect(hurt.stderr).toMatch(/refer/);
  });
});
