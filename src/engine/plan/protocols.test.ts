import { describe, expect, it } from "vitest";
import { exampleBaseline, examplePlan, sessionsOf } from "../../../tests/examples/plans.ts";
import { expectClose } from "../../../tests/expect-close.ts";
import { proposeChange } from "../target/propose.ts";
import { findProtocol, protocols } from "./all-protocols.ts";
import { daysBetween } from "./calendar.ts";
import { findSource } from "./find-source.ts";
import type { Plan } from "./plan.ts";

interface Known {
  /** As read; "remembered" ones are checked too, but the data must call them so. */
  readonly riseShare?: number;
  readonly weeks: number;
  readonly sessions: number;
  readonly firstMinutes?: number;
  readonly lastMinutes?: number;
  readonly totalMinutes?: number;
  readonly shares?: readonly number[];
  readonly remembered?: readonly ("riseShare" | "weeks" | "sessionCount" | "minutes" | "cue" | "cueSchedule")[];
}

const fade = [1, 1, 1, 1, 0.75, 0.5, 0.25, 0.1];
const zeros = [0, 0, 0, 0, 0, 0, 0, 0];

// Typed from the sources' abstracts and tables, apart from the data under test; own words, figures only.
const known: Record<string, Known> = {
  "willy-2016": {
    riseShare: 0.075,
    weeks: 2,
    sessions: 8,
    firstMinutes: 10,
    lastMinutes: 30,
    shares: fade,
    remembered: ["weeks", "minutes", "cueSchedule"],
  },
  "bramah-2019": { riseShare: 0.1, weeks: 4, sessions: 1, totalMinutes: 10, shares: [1] },
  "hafer-2015": { riseShare: 0.1, weeks: 6, sessions: 18 },
  "baumgartner-2019": { riseShare: 0.1, weeks: 6, sessions: 18 },
  "wang-2020": { riseShare: 0.075, weeks: 12, sessions: 36, remembered: ["sessionCount", "cue"] },
  "huber-2024": { riseShare: 0.075, weeks: 2, sessions: 6, firstMinutes: 5, lastMinutes: 30 },
  "crowell-2011": { weeks: 2, sessions: 8, firstMinutes: 15, lastMinutes: 30, totalMinutes: 180, shares: fade },
  "willy-2012": { weeks: 2, sessions: 8, totalMinutes: 180, shares: fade, remembered: ["weeks", "minutes"] },
  "bowser-2018": {
    weeks: 4,
    sessions: 16,
    firstMinutes: 15,
    lastMinutes: 30,
    totalMinutes: 360,
    shares: [...zeros, ...fade],
  },
  "dos-santos-2019": {
    riseShare: 0.1,
    weeks: 2,
    sessions: 8,
    totalMinutes: 180,
    remembered: ["sessionCount", "minutes", "cue", "cueSchedule"],
  },
  "chan-2018": { weeks: 2, sessions: 8, totalMinutes: 180, remembered: ["sessionCount", "minutes", "cueSchedule"] },
  "noehren-2011": {
    weeks: 2,
    sessions: 8,
    totalMinutes: 180,
    shares: fade,
    remembered: ["riseShare", "weeks", "sessionCount", "minutes", "cue", "cueSchedule"],
  },
  "neal-2018": {
    riseShare: 0.075,
    weeks: 6,
    sessions: 18,
    firstMinutes: 10,
    lastMinutes: 30,
    totalMinutes: 360,
    remembered: ["riseShare", "weeks", "sessionCount", "minutes", "cue", "cueSchedule"],
  },
  "musgjerd-2021": { riseShare: 0.1, weeks: 1, sessions: 1 },
  "crowell-2026": { weeks: 8, sessions: 6 },
  "tate-2017": { weeks: 1, sessions: 1, totalMinutes: 15, shares: [1] },
  "van-den-berghe-2024": { weeks: 3, sessions: 6 },
  "giraldo-2020-row": { weeks: 4, sessions: 8 },
};

const layOut = (protocolId: string): Plan => examplePlan({ protocolId }, { baseline: exampleBaseline(160) });

describe("published protocols", () => {
  it("[P12] are all here, each with its own id and source", () => {
    expect(protocols.map((protocol) => protocol.id).sort()).toEqual(Object.keys(known).sort());
    for (const { id, source } of protocols) {
      expect(source.authors.length, id).toBeGreaterThan(3);
      expect(source.where.length, id).toBeGreaterThan(3);
      expect(findSource(`protocol:${id}`)?.source, id).toBe(source);
    }
    expect(findProtocol("nobody-1900")).toBeUndefined();
  });

  it.each(Object.entries(known))("[P12] published: %s lies on the calendar as the paper has it", (id, paper) => {
    const plan = layOut(id);
    const sessions = sessionsOf(plan);
    expect(plan.stages).toHaveLength(1);
    expect(sessions).toHaveLength(paper.sessions);
    const weeks = new Set(sessions.map((session) => Math.floor(daysBetween("2026-03-02", session.date) / 7)));
    expect(Math.max(...weeks)).toBeLessThan(paper.weeks);
    expect(findProtocol(id)!.weeks.value).toBe(paper.weeks);
    const minutes = sessions.map((session) => session.mainMinutes);
    if (paper.riseShare !== undefined)
      expectClose(plan.aimSpm, 160 * (1 + paper.riseShare), { atol: 0.5, because: "half-step grid" });
    if (paper.firstMinutes !== undefined) expect(minutes[0]).toBe(paper.firstMinutes);
    if (paper.lastMinutes !== undefined) expect(minutes.at(-1)).toBe(paper.lastMinutes);
    if (paper.totalMinutes !== undefined)
      expectClose(plan.totalMinutes, paper.totalMinutes, { atol: 1e-9, because: "arithmetic" });
    if (paper.shares !== undefined) expect(sessions.map((session) => session.cueShare)).toEqual(paper.shares);
  });

  it("[P12] call remembered parameters from memory, and only those", () => {
    for (const protocol of protocols) {
      const remembered = (["riseShare", "weeks", "sessionCount", "minutes", "cue", "cueSchedule"] as const).filter(
        (name) => protocol[name].kind === "from-memory",
      );
      expect(remembered, protocol.id).toEqual(known[protocol.id]?.remembered ?? []);
    }
  });

  it("[P12] published: contacts of the eight-week telehealth trial fall in weeks 1 to 4, 6 and 8", () => {
    const weeks = sessionsOf(layOut("crowell-2026")).map(
      (session) => 1 + Math.floor(daysBetween("2026-03-02", session.date) / 7),
    );
    expect(weeks).toEqual([1, 2, 3, 4, 6, 8]);
  });

  it("[P12] published: half of the running with the beat (Hafer et al. 2015)", () => {
    const plan = layOut("hafer-2015");
    expectClose(plan.totalCuedMinutes / plan.totalMinutes, 0.5, {
      rtol: 1e-12,
      because: "at least half of the distance",
    });
  });

  it("[P12] tell the coach what the paper does not state", () => {
    const text = layOut("wang-2020")
      .reasons.filter((entry) => entry.rule === "P12")
      .map((entry) => entry.text)
      .join(" ");
    expect(text).toContain("the number of sessions (from memory)");
    expect(text).toContain("the minutes (ours)");
    expect(text).toContain("no promise");
  });

  it("[P12] a protocol that trained something else lends only its schedule", () => {
    const { proposal } = layOut("crowell-2011").request;
    expect(layOut("crowell-2011").rungsSpm).toEqual([proposal.aimSpm]);
    expect(proposeChange({ baseline: exampleBaseline(160) }).aimSpm).toBe(170);
  });

  it("[P8] a week away moves a protocol on, it does not squeeze it", () => {
    const plan = examplePlan({ protocolId: "crowell-2011", away: [{ from: "2026-03-09", to: "2026-03-15" }] });
    const sessions = sessionsOf(plan);
    expect(sessions).toHaveLength(8);
    expect(sessions.filter((session) => session.date < "2026-03-09")).toHaveLength(4);
    expect(sessions.map((session) => session.cueShare)).toEqual(fade);
    expect(sessions.at(-1)!.date > "2026-03-15").toBe(true);
  });
});
