import { expect, test } from "vitest";
import { describeProblem, describeProblems, type Problem } from "./problem.ts";

const latitude = (line: number, file = "run.gpx"): Problem => ({
  code: "latitude-range",
  where: { file, line },
  expected: "a latitude from -90 to 90 degrees",
  got: "200",
  remedy: "Correct it.",
});

test("a problem is one line: file, place, what was wrong, what to do", () => {
  expect(describeProblem(latitude(6))).toBe(
    "run.gpx, line 6: expected a latitude from -90 to 90 degrees, got 200. Correct it.",
  );
});

test("of many alike the first three are told, and how many were left out", () => {
  const lines = describeProblems(Array.from({ length: 20 }, (_, at) => latitude(6 + at)));
  expect(lines).toEqual([
    describeProblem(latitude(6)),
    describeProblem(latitude(7)),
    describeProblem(latitude(8)),
    "run.gpx: and at least 17 more like these.",
  ]);
});

test("four alike are all told; another file and another fault are never folded in", () => {
  const four = [6, 7, 8, 9].map((line) => latitude(line));
  const others = [latitude(6, "other.gpx"), { ...latitude(10), code: "longitude-range" }];
  expect(describeProblems([...four, ...others])).toEqual([...four, ...others].map(describeProblem));
});
