import { describe, expect, it } from "vitest";
import type { WeekRow } from "../../api/index.ts";
import { confirmable, confirmWord, reasonRequired, shownRows, withDecisions } from "./week-model.ts";

const row = (name: string, urgency: number, more: Partial<WeekRow> = {}): WeekRow => ({
  runnerId: name,
  name,
  initials: name.slice(0, 1),
  remote: false,
  evidence: "in band 88 %",
  urgency,
  pain: null,
  sentNothing: false,
  recordingCount: 1,
  inBandShare: 0.88,
  speedChangePercent: 0,
  lateRunDropSpm: null,
  matchedChangeSpm: null,
  targetSpm: 160,
  stageIndex: 0,
  stageCount: 4,
  proposed: { decision: "move-on", rule: "D8", reasons: [] },
  decided: null,
  ...more,
});
const refer = row("Ada", 0, { pain: 6, proposed: { decision: "stop-and-refer", rule: "D1", reasons: [] } });
const done = row("Bo", 5, {
  decided: {
    id: "d",
    runnerId: "Bo",
    weekStartsOn: "2026-03-02",
    decision: "stay",
    proposed: "stay",
    rule: "D9",
    overruled: false,
    reason: "",
    at: "2026-03-03T10:00:00Z",
    byName: "C",
  },
});
const silent = row("Cleo", 2, { sentNothing: true, targetSpm: 152 });
const open = row("Dan", 3);
const noPlan = row("Eve", 9, { proposed: null, targetSpm: null });
const rows = [open, done, refer, silent, noPlan];

describe("the week's list", () => {
  it("[D1] is worst first by default, pain on top", () => {
    expect(shownRows(rows, "all", "urgency", "en").map((one) => one.name)).toEqual(["Ada", "Cleo", "Dan", "Bo", "Eve"]);
  });

  it("sorts by name and by target, those without one last, pain on top all the same", () => {
    expect(shownRows(rows, "all", "name", "en").map((one) => one.name)).toEqual(["Ada", "Bo", "Cleo", "Dan", "Eve"]);
    expect(shownRows(rows, "all", "target", "en").map((one) => one.name)).toEqual(["Ada", "Cleo", "Bo", "Dan", "Eve"]);
  });

  it("filters", () => {
    const names = (show: "open" | "silent" | "pain") => shownRows(rows, show, "name", "en").map((one) => one.name);
    expect(names("open")).toEqual(["Ada", "Cleo", "Dan"]);
    expect(names("silent")).toEqual(["Cleo"]);
    expect(names("pain")).toEqual(["Ada"]);
  });

  it("[D10] one press confirms what is proposed and open, never stop-and-refer", () => {
    expect(confirmable(rows).map((one) => one.name)).toEqual(["Dan", "Cleo"]);
  });

  it("calls the one press by what it does: all, some, or the other ones once something is decided", () => {
    expect(confirmWord([open, silent, noPlan], [open, silent])).toBe("all");
    expect(confirmWord([refer, open, silent], [open, silent])).toBe("some");
    expect(confirmWord([done, open, silent], [open, silent])).toBe("other");
  });

  it("puts those with nothing to decide last, however they were ranked", () => {
    const early = row("Gus", 1, { proposed: null });
    expect(shownRows([early, open, done], "all", "urgency", "en").map((one) => one.name)).toEqual(["Dan", "Bo", "Gus"]);
  });

  it("shows a decision at once and counts what is left", () => {
    const week = {
      weekStartsOn: "2026-03-02",
      weekNumber: 1,
      rows: [...rows],
      next: null,
      total: 5,
      undecided: 3,
      computedAt: "2026-03-03T10:00:00Z",
    };
    const after = withDecisions(week, [{ ...done.decided!, runnerId: "Dan" }]);
    expect(after.rows.find((one) => one.name === "Dan")?.decided?.decision).toBe("stay");
    expect(after.rows.find((one) => one.name === "Cleo")?.decided).toBeNull();
    expect(after.undecided).toBe(2);
  });

  it("[D10] overruling stop-and-refer needs a reason, agreeing with it does not", () => {
    expect(reasonRequired(refer, "stay")).toBe(true);
    expect(reasonRequired(refer, "stop-and-refer")).toBe(false);
    expect(reasonRequired(open, "stay")).toBe(false);
  });
});
