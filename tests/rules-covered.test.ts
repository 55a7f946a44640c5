// Rule, code, test title and on-screen reason stay tied together: no rule lacks a test, no test or reason names a missing rule.
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import { allEvidence } from "../src/engine/evidence/all.ts";
import { settingTable } from "../src/engine/target/settings.ts";

const root = path.resolve(import.meta.dirname, "..");

function filesUnder(folder: string, matches: (name: string) => boolean): string[] {
  return readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && matches(entry.name))
    .map((entry) => path.join(entry.parentPath, entry.name));
}

interface Rule {
  readonly id: string;
  readonly text: string;
}

function readRules(): Rule[] {
  return filesUnder("docs/rules", (name) => name.endsWith(".md")).flatMap((file) => {
    const [, ...items] = readFileSync(file, "utf8").split(/^- \*\*(?=[A-Z]\d+\*\* )/m);
    return items.map((item) => {
      const [id, ...text] = item.split("** ");
      // A rule ends with its paragraph.
      return { id: id ?? "", text: text.join("** ").split(/\n\n/)[0] ?? "" };
    });
  });
}

const rules = readRules();
const ruleIds = new Set(rules.map((rule) => rule.id));
const isTest = (name: string): boolean => /\.test\.tsx?$/.test(name);
const tests = [...filesUnder("src", isTest), ...filesUnder("tests", isTest), ...filesUnder("e2e", isTest)];

/** Ids at the beginning of test titles; a title may begin with several. */
function titledRules(source: string): string[] {
  return [...source.matchAll(/\b(?:it|test|describe)\b[^"'`\n]*\(\s*["'`]((?:\[[A-Z]\d+\] ?)+)/g)].flatMap((match) =>
    [...(match[1] ?? "").matchAll(/\[([A-Z]\d+)\]/g)].map((id) => id[1] ?? ""),
  );
}

const titled = new Map<string, string[]>();
for (const file of tests)
  for (const id of titledRules(readFileSync(file, "utf8")))
    titled.set(id, [...(titled.get(id) ?? []), path.relative(root, file)]);

describe("rules and tests", () => {
  it("finds the rules: M1–M4, T1–T9, P1–P12, D1–D11, L1–L5, each once", () => {
    const upTo = (letter: string, last: number): string[] =>
      Array.from({ length: last }, (_, index) => `${letter}${index + 1}`);
    const expected = [...upTo("M", 4), ...upTo("T", 9), ...upTo("P", 12), ...upTo("D", 11), ...upTo("L", 5)];
    expect(rules.map((rule) => rule.id).sort()).toEqual(expected.sort());
  });

  it("reads titles, and only titles", () => {
    // Put together at run time, or this file would title them itself.
    const title = (id: string): string => `[${id}]`;
    expect(titledRules(`it("${title("T3")} the nearest", () => {})`)).toEqual(["T3"]);
    expect(titledRules(`it.each(rows)("${title("P12")} %s", () => {})`)).toEqual(["P12"]);
    expect(titledRules(`it(\n  "${title("D1")} ${title("T6")} both", () => {})`)).toEqual(["D1", "T6"]);
    expect(titledRules(`expect(text).toBe("${title("T3")} the nearest")`)).toEqual([]);
  });

  it("no rule lacks a test", () => {
    expect([...ruleIds].filter((id) => !titled.has(id))).toEqual([]);
  });

  it("no test names a missing rule", () => {
    expect([...titled].filter(([id]) => !ruleIds.has(id))).toEqual([]);
  });
});

describe("rules and reasons", () => {
  const sources = filesUnder("src/engine", (name) => name.endsWith(".ts") && !isTest(name)).map((file) =>
    readFileSync(file, "utf8"),
  );
  const named = new Set(
    sources.flatMap((source) =>
      [...source.matchAll(/(?:reason\(\s*|stay\(\s*|rule: )"([A-Z]\d+)"/g)].map((match) => match[1] ?? ""),
    ),
  );

  it("no reason shown to a coach names a missing rule", () => {
    expect(named.size).toBeGreaterThan(25);
    expect([...named].filter((id) => !ruleIds.has(id))).toEqual([]);
  });

  it("no setting names a missing rule", () => {
    for (const [key, entry] of Object.entries(settingTable))
      for (const id of entry.rules) expect(ruleIds.has(id), `${key} names ${id}`).toBe(true);
  });
});

describe("rules, evidence and settings", () => {
  const evidenceIds = new Set(allEvidence.map((entry) => entry.id));

  it.each(rules.map((rule) => [rule.id, rule.text] as const))(
    "%s says what it rests on, and all of that exists",
    (id, text) => {
      const [, basis = ""] = text.split("*Evidence:*");
      const [evidence = "", settings = ""] = basis.split("*Settings:*");
      const names = (part: string): string[] => [...part.matchAll(/`([^`/]+)`/g)].map((match) => match[1] ?? "");
      expect(names(evidence).length > 0 || /^\s*ours\b/.test(evidence), `${id} has evidence or says "ours"`).toBe(true);
      for (const name of names(evidence)) expect(evidenceIds.has(name), `${id}: evidence ${name}`).toBe(true);
      for (const name of names(settings))
        expect(Object.hasOwn(settingTable, name), `${id}: setting ${name}`).toBe(true);
    },
  );

  it("every setting stands beside a rule", () => {
    const all = rules.map((rule) => rule.text).join("\n");
    expect(Object.keys(settingTable).filter((key) => !all.includes(`\`${key}\``))).toEqual([]);
  });
});
