import { describe, expect, it } from "vitest";
import type { ProgrammeResult } from "../../api/index.ts";
import { markOf, sortedResults } from "./results-model.ts";

const uncertain = (estimate: number) => ({
  estimate,
  standardError: 1,
  interval95: { low: estimate - 2, high: estimate + 2 },
  sampleCount: 4,
  method: "runs",
});
const row = (name: string, own: number | null, sessionsDone = 5): ProgrammeResult["runners"][number] => ({
  runnerId: name,
  name,
  finding: "changed",
  ownChangeSpm: own === null ? null : uncertain(own),
  shrunkenChangeSpm: own === null ? null : uncertain(own / 2),
  targetChangeSpm: null,
  beforeRunCount: 2,
  afterRunCount: 2,
  attendedCount: 6,
  sessionsDone,
  sessionsPlanned: 6,
  sentence: "",
});
const rows = [row("Bo", 2, 9), row("Ada", null, 1), row("Cleo", 7, 4)];
const names = (some: readonly { name: string }[]) => some.map((one) => one.name);

describe("programme results", () => {
  it("sorts by change either way, those without an estimate always last", () => {
    expect(names(sortedResults(rows, { key: "change", descending: true }, "own", "en"))).toEqual(["Cleo", "Bo", "Ada"]);
    expect(names(sortedResults(rows, { key: "change", descending: false }, "own", "en"))).toEqual([
      "Bo",
      "Cleo",
      "Ada",
    ]);
  });

  it("sorts by name and sessions", () => {
    expect(names(sortedResults(rows, { key: "name", descending: false }, "own", "en"))).toEqual(["Ada", "Bo", "Cleo"]);
    expect(names(sortedResults(rows, { key: "sessions", descending: true }, "own", "en"))).toEqual([
      "Bo",
      "Cleo",
      "Ada",
    ]);
  });

  it("shows the estimate that was asked for", () => {
    expect(markOf(rows[2]!, "own")?.estimate).toBe(7);
    expect(markOf(rows[2]!, "shrunken")).toEqual({ estimate: 3.5, low: 1.5, high: 5.5 });
    expect(markOf(rows[1]!, "own")).toBeUndefined();
  });
});
