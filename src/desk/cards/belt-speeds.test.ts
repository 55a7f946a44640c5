import { expect, it } from "vitest";
import { beltSpeedsKmh } from "./belt-speeds.ts";

it("closed form: 2.8 m/s is 10.08 km/h, so 9 to 11 in halves", () => {
  expect(beltSpeedsKmh(2.8)).toEqual([9, 9.5, 10, 10.5, 11]);
});

it("leaves out a belt that would stand still", () => {
  expect(beltSpeedsKmh(0.3)).toEqual([0.5, 1, 1.5, 2]);
});
