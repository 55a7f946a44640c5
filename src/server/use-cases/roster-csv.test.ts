import fc from "fast-check";
import Papa from "papaparse";
import { expect, test } from "vitest";
import { previewRoster, writeCsv } from "./roster-csv.ts";

test("a header without names is told in short, however long it is", () => {
  const [problem] = previewRoster(`${"height,".repeat(100_000)}\n1.7\n`, []).problems;
  expect(problem?.code).toBe("roster-no-name");
  expect(problem?.got.length).toBeLessThanOrEqual(200);
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
