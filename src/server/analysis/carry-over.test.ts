import { expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { carryOverOf, carryOverShare } from "./carry-over.ts";
import type { RunFacts } from "./runner-state.ts";

const run = (cueOffSpm: number | null, targetSpm = 170) => ({ cueOffSpm, targetSpm }) as RunFacts;

test("closed form: back at baseline is 0, all of it is 1, the interval is t over runs", () => {
  expect(carryOverShare(run(160), 160)).toBe(0);
  expect(carryOverShare(run(170), 160)).toBe(1);
  expect(carryOverShare(run(161, 161), 160)).toBeNull();
  expect(carryOverShare(run(null), 160)).toBeNull();
  expect(carryOverOf([run(166)], 160)).toBeNull();
  const made = carryOverOf([run(166), run(168), run(null)], 160);
  expectClose(made?.share ?? NaN, 0.7, { rtol: 1e-12, because: "mean of 0.6 and 0.8" });
  // Two runs: t(0.975, 1) = 12.7062 (published in any t table), standard error 0.1.
  expectClose(made?.interval95.high ?? NaN, 0.7 + 12.7062 * 0.1, { atol: 1e-5, because: "four decimals of the table" });
});
