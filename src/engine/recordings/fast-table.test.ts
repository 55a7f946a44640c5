// The quick reading of cells against the language's own.
import { expect, test } from "vitest";
import { readFastTable } from "./fast-table.ts";

const read = (text: string, decimalComma = false) =>
  readFastTable(text, 0, {
    delimiter: decimalComma ? ";" : ",",
    decimalComma,
    columns: [0, 2],
    maxRows: 1000,
    maxFaults: 10,
  });

const WRITTEN = [
  "0",
  "-0",
  "7",
  "+7",
  ".5",
  "5.",
  "-.5",
  " 12.5 ",
  "0.1",
  "123456789012345",
  "1234567890123456",
  "12345678901234567890",
  "9007199254740993",
  "0.000000000000000000000012345",
  "0.0000000000000000000000000012345",
  "000000000000000000001.5",
  "-13.511925402413363",
  "9.583654692220893",
  "1e-7",
  "-2.5E3",
];

test("slow twin: every way to write a number gives what Number gives", () => {
  const { values, faults } = read(WRITTEN.map((cell) => `${cell},x,${cell}`).join("\r\n"));
  expect(faults).toEqual([]);
  for (const column of values) expect(Array.from(column)).toEqual(WRITTEN.map(Number));
});

test("slow twin: with decimal commas", () => {
  const cells = WRITTEN.map((cell) => cell.replace(".", ","));
  const { values, faults } = read(cells.map((cell) => `${cell};x;${cell}`).join("\n"), true);
  expect(faults).toEqual([]);
  for (const column of values) expect(Array.from(column)).toEqual(WRITTEN.map(Number));
});

test.each(["1.2.3", ".", "+-1", "1-2", "12a", "1 2", "0x10", "Infinity", "1;5"])("%s is no number", (cell) => {
  const { values, faults } = read(`1,x,2\n${cell},x,3\n4,x,5`);
  expect(faults).toEqual([{ row: 2, column: 0, text: cell }]);
  expect(Array.from(values[1]!)).toEqual([2, 3, 5]);
});

test("missing cells, short rows, empty lines and remarks", () => {
  const { values, rowCount, faults } = read("1,x,2\n\n# a remark, 3, 4\n,x,NaN\n5\n6,x\n7,x,n/a,more\n8,x,9");
  expect(rowCount).toBe(6);
  expect(faults).toEqual([]);
  expect(Array.from(values[0]!)).toEqual([1, NaN, 5, 6, 7, 8]);
  expect(Array.from(values[1]!)).toEqual([2, NaN, NaN, NaN, NaN, 9]);
});
