import fc from "fast-check";
import Papa from "papaparse";
import { expect, test } from "vitest";
import { previewRoster, writeCsv } from "./roster-csv.ts";

const RUNS = process.env["SPONDEE_LONG"] === undefined ? 2000 : 100_000;
const valid = 'name,height (cm),history,notes\nAnn Lee,171,achilles,"says ""hi"", often"\nBo Ek,182.5,none,\n';

test(`property: ${RUNS} mutated rosters never throw, and always give a clear problem or a valid row (seed 7)`, () => {
  const edit = fc.record({
    at: fc.nat(valid.length),
    cut: fc.nat(12),
    put: fc.string({ maxLength: 12, unit: "binary" }),
  });
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
      let text = valid;
      for (const { at, cut, put } of edits) text = text.slice(0, at) + put + text.slice(at + cut);
      const preview = previewRoster(text, [{ id: "x", name: "Ann Lee" }]);
      for (const row of preview.rows) {
        expect((row.runner === null) === row.problems.length > 0).toBe(true);
        if (row.runner === null) continue;
        expect(row.runner.name.length).toBeGreaterThan(0);
        expect(row.runner.name.length).toBeLessThanOrEqual(120);
        if (row.runner.heightM !== undefined) expect(row.runner.heightM).toBeLessThanOrEqual(2.5);
      }
      expect(preview.importable).toBeLessThanOrEqual(preview.rows.length);
    }),
    { seed: 7, numRuns: RUNS },
  );
});

test("outside tool: what is written is what a CSV reader reads back, save for the apostrophe before a formula", () => {
  fc.assert(
    fc.property(
      fc.array(fc.array(fc.string({ unit: "binary", maxLength: 20 }), { minLength: 2, maxLength: 2 }), {
        maxLength: 5,
      }),
      (rows) => {
        const text = writeCsv(["a", "b"], rows);
        const read = Papa.parse<string[]>(text, { newline: "\r\n" }).data.slice(1, -1);
        const expected = rows.map((row) => row.map((cell) => (/^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell)));
        expect(read).toEqual(expected);
      },
    ),
    { seed: 7, numRuns: 500 },
  );
});
