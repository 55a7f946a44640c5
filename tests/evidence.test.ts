// Every constant that shapes advice has one id, a source or an honest label, and a use.
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import { allEvidence } from "../src/engine/evidence/all.ts";
import { type Evidence, titleShown } from "../src/engine/evidence/evidence.ts";
import { findSource } from "../src/engine/plan/find-source.ts";
import { protocols } from "../src/engine/plan/all-protocols.ts";
import { examplePlan, goodWeek } from "./examples/plans.ts";
import { decide } from "../src/engine/plan/decide.ts";
import { redFlags, type RedFlag } from "../src/engine/target/red-flags.ts";

const root = path.resolve(import.meta.dirname, "..");
const entries: readonly Evidence<unknown>[] = allEvidence;

function filesUnder(folder: string, matches: (file: string) => boolean): string[] {
  return readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.join(entry.parentPath, entry.name))
    .filter(matches);
}

describe("evidence", () => {
  it("is there", () => {
    expect(entries.length).toBeGreaterThan(60);
  });

  it("has unique ids in one form", () => {
    const ids = entries.map((entry) => entry.id);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
    for (const id of ids) expect(id).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
  });

  it.each(entries.map((entry) => [entry.id, entry] as const))(
    "%s has a source, or says that there is none",
    (_id, entry) => {
      if (entry.kind !== "common-practice" && entry.kind !== "ours") expect(entry.source).toBeDefined();
      if (entry.source !== undefined) {
        for (const field of ["authors", "title", "where"] as const)
          expect(entry.source[field].trim(), field).not.toBe("");
        expect(entry.source.year).toBeGreaterThan(1900);
        expect(entry.source.year).toBeLessThan(2027);
        if (entry.source.doi !== undefined) expect(entry.source.doi).toMatch(/^10\.\d{4,}\/\S+$/);
      }
      expect(entry.note.trim().length, "a sentence for the coach").toBeGreaterThan(20);
      expect(entry.unit.trim(), "a unit").not.toBe("");
    },
  );

  it.each(
    entries
      .filter((entry) => entry.range !== undefined && typeof entry.value === "number")
      .map((entry) => [entry.id, entry] as const),
  )("%s lies in its own range", (_id, entry) => {
    expect(entry.value).toBeGreaterThanOrEqual(entry.range![0]);
    expect(entry.value).toBeLessThanOrEqual(entry.range![1]);
  });

  it("each constant is used somewhere outside the evidence itself", () => {
    const topics = filesUnder("src/engine/evidence", (file) => !file.endsWith(".test.ts"));
    // Exported name of each id, from the topic files.
    const names = new Map<string, string>();
    for (const file of topics)
      for (const match of readFileSync(file, "utf8").matchAll(
        /export const (\w+)(?:: [^=]+)? = evidence(?:<[^(]*>)?\(\{\s*id: "([^"]+)"/g,
      ))
        names.set(match[2] ?? "", match[1] ?? "");
    const unnamed = entries.filter((entry) => !names.has(entry.id)).map((entry) => entry.id);
    expect(unnamed, "exported by name").toEqual([]);
    const code = filesUnder(
      "src",
      (file) => /\.tsx?$/.test(file) && !/\.test\.tsx?$/.test(file) && !file.includes(`${path.sep}evidence${path.sep}`),
    )
      .map((file) => readFileSync(file, "utf8"))
      .join("\n");
    const unused = [...names].filter(([, name]) => !new RegExp(`\\b${name}\\b`).test(code)).map(([id]) => id);
    expect(unused).toEqual([]);
  });
});

/** Titles that were read on the source itself. Every other one says that it is remembered, or our description. */
const titlesRead: ReadonlySet<string> = new Set([
  "A 10% Increase in Step Rate Improves Running Kinematics and Clinical Outcomes in Runners With Patellofemoral Pain at 4 Weeks and 3 Months",
  "Effects of 12-week cadence retraining on impact peak, load rates and lower extremity biomechanics in running",
  "Effects of Step Rate Manipulation on Joint Mechanics during Running",
  "Geolocation API",
  "Leg stiffness and stride frequency in human running",
  "Measures of reliability in sports medicine and science",
  "The effects & mechanisms of increasing running step rate: a feasibility study in a mixed-sex group of runners with patellofemoral pain",
  "When Is It Safe to Run? Applying Four Pain Rules",
]);

describe("titles", () => {
  const sources = [...entries.map((entry) => entry.source), ...protocols.map((protocol) => protocol.source)].filter(
    (source) => source !== undefined,
  );

  it("nothing from memory is dressed as read", () => {
    for (const source of sources) {
      const shown = titleShown(source);
      expect(titlesRead.has(source.title), shown).toBe(source.titleFrom === undefined);
      expect(/title from memory|title not noted/.test(source.title), "said by the field, not in the title").toBe(false);
      expect(/title from memory|title not noted/.test(shown)).toBe(!titlesRead.has(source.title));
    }
  });
});

describe("sources shown to a coach", () => {
  it("resolve, for plans, protocols and decisions", () => {
    const reasons = [
      ...examplePlan().request.proposal.reasons,
      ...examplePlan({}, { history: ["bone"], heightM: 1.2, legLengthM: 1 }).request.proposal.reasons,
      ...examplePlan({ raceDate: "2026-03-29", away: [{ from: "2026-04-06", to: "2026-04-12" }] }).reasons,
      ...protocols.flatMap((protocol) => examplePlan({ protocolId: protocol.id }).reasons),
    ];
    const state = { plan: examplePlan(), rung: 1, nextWeekOn: "2026-03-16" };
    const weeks = [
      goodWeek(),
      goodWeek({ sessionsDone: 0, cuedSessions: [] }),
      goodWeek({ missedWeeksInRow: 2 }),
      goodWeek({ pain: { worst0to10: 4 } }),
      goodWeek({ pain: { worst0to10: 9, redFlags: Object.keys(redFlags) as RedFlag[] } }),
      goodWeek({ longestRunM: 2, longestBefore30DaysM: 1 }),
      goodWeek({ speedChangeShare: 0.1 }),
      goodWeek({ lateDropShare: 0.1 }),
      goodWeek({ cuedSessions: [{ inBandShare: 0 }, { inBandShare: 0 }] }),
      goodWeek({ sessionsDone: 1 }),
    ];
    reasons.push(...weeks.flatMap((week) => decide(state, week).reasons));
    expect(reasons.length).toBeGreaterThan(60);
    for (const { rule, sources } of reasons)
      for (const id of sources) expect(findSource(id), `${rule}: ${id}`).toBeDefined();
    expect(findSource("protocol:nobody-1900")).toBeUndefined();
    expect(findSource("no-such-thing")).toBeUndefined();
  });
});
