import { describe, expect, it } from "vitest";
import { clockDigits } from "./clock-digits.ts";

describe("clock digits", () => {
  it("counts down to the start tone", () => {
    expect([-3, -2.4, -1.01, -0.2].map((s) => clockDigits("ready", s))).toEqual(["3", "3", "2", "1"]);
  });

  it("shows whole seconds that have passed", () => {
    expect([0, 0.99, 1, 37.6, 60, 61.2].map((s) => clockDigits("running", s))).toEqual([
      "0:00",
      "0:00",
      "0:01",
      "0:37",
      "1:00",
      "1:01",
    ]);
  });
});
