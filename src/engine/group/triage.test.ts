import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { triage, triageClass, type TriageItem } from "./triage.ts";

const item = (id: string, rest: Partial<TriageItem> = {}): TriageItem => ({ id, name: id, ...rest });

describe("triage", () => {
  it("[L5] pain first, then refer, ease back, stay, nothing sent, move on", () => {
    const sorted = triage([
      item("on", { action: "move-on", inBandShare: 0.9 }),
      item("silent"),
      item("stay", { action: "stay" }),
      item("ease", { action: "ease-back" }),
      item("refer", { action: "stop-and-refer" }),
      item("little pain", { action: "move-on", pain0to10: 1 }),
      item("more pain", { action: "ease-back", pain0to10: 4 }),
    ]);
    expect(sorted.map((entry) => entry.id)).toEqual([
      "more pain",
      "little pain",
      "refer",
      "ease",
      "stay",
      "silent",
      "on",
    ]);
  });

  it("[L5] within a class the least in band comes first, and no pain is no pain", () => {
    const sorted = triage([
      item("good", { action: "stay", inBandShare: 0.7 }),
      item("bad", { action: "stay", inBandShare: 0.3 }),
      item("unknown", { action: "stay" }),
      item("zero", { action: "stay", pain0to10: 0, inBandShare: 0.5 }),
    ]);
    expect(sorted.map((entry) => entry.id)).toEqual(["bad", "zero", "good", "unknown"]);
  });

  it("property: the order is the same whatever order they come in, and nobody is lost", () => {
    const items = fc.uniqueArray(
      fc.record({
        id: fc.string({ minLength: 1, maxLength: 4 }),
        name: fc.string({ maxLength: 3 }),
        pain0to10: fc.integer({ min: 0, max: 10 }),
        action: fc.constantFrom("move-on", "stay", "ease-back", "stop-and-refer"),
        inBandShare: fc.double({ min: 0, max: 1, noNaN: true }),
      }),
      { selector: (entry) => entry.id.normalize(), maxLength: 12 },
    );
    fc.assert(
      fc.property(items, (list) => {
        const typed = list as TriageItem[];
        const ids = (entries: readonly TriageItem[]): string[] => entries.map((entry) => entry.id);
        const once = triage(typed);
        // Ids that a collator holds equal keep their order of arrival; compare what decides.
        const keys = (entries: readonly TriageItem[]): string[] =>
          entries.map((entry) => `${triageClass(entry)} ${entry.pain0to10} ${entry.inBandShare}`);
        expect(keys(triage([...typed].reverse()))).toEqual(keys(once));
        expect(ids(once).sort()).toEqual(ids(typed).sort());
      }),
      { seed: 7, numRuns: 100 },
    );
  });
});
