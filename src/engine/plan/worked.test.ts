import { describe, expect, it } from "vitest";
import { sayWhetherItWorked } from "./worked.ts";

const change = (estimate: number, low: number, high: number): Parameters<typeof sayWhetherItWorked>[0] => ({
  estimate,
  interval95: { low, high },
});

describe("“it worked”", () => {
  it("[D11] is said only with the interval above 0 and two runs on each side", () => {
    const yes = sayWhetherItWorked(change(4, 2, 6), { before: 2, after: 2, stillNeeded: 0 });
    expect(yes.worked).toBe(true);
    expect(yes.reason.text).toBe(
      "It worked: about 4 spm quicker at the same speed, 95 % sure it is between 2 and 6 spm.",
    );
    for (const [before, after] of [
      [1, 2],
      [2, 1],
      [1, 9],
    ] as const)
      expect(sayWhetherItWorked(change(8, 6, 10), { before, after, stillNeeded: 0 }).worked, `${before}/${after}`).toBe(
        false,
      );
    expect(sayWhetherItWorked(change(4, 0, 8), { before: 5, after: 5, stillNeeded: 3 }).worked).toBe(false);
  });

  it("[D11] otherwise says how many more runs", () => {
    expect(sayWhetherItWorked(change(3, -1, 7), { before: 3, after: 3, stillNeeded: 4 }).reason.text).toContain(
      "about 4 more runs",
    );
    expect(sayWhetherItWorked(change(8, 6, 10), { before: 1, after: 2, stillNeeded: 0 }).reason.text).toContain(
      "about 1 more run.",
    );
    expect(sayWhetherItWorked(change(-4, -6, -2), { before: 3, after: 3, stillNeeded: 0 }).reason.text).toContain(
      "lower than before",
    );
  });
});
