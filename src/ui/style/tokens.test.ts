import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";

const css = readFileSync(new URL("./tokens.css", import.meta.url), "utf8");
const pairs = new Map(
  [...css.matchAll(/--([a-z-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/g)].map((match) => [
    match[1]!,
    { light: match[2]!, dark: match[3]! },
  ]),
);

/** Relative luminance and contrast ratio as in WCAG 2.2 (W3C Recommendation 2023), definitions in its glossary. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].toSorted((x, y) => y - x);
  return (high! + 0.05) / (low! + 0.05);
}

describe("contrast", () => {
  it("published: black on white is 21 to 1 (WCAG 2.2), #767676 on white is 4.54 to 1 (from memory)", () => {
    expectClose(contrast("#000000", "#ffffff"), 21, { rtol: 1e-9, because: "the definition's own extreme" });
    expectClose(contrast("#767676", "#ffffff"), 4.54, { atol: 0.01, because: "printed to two decimals" });
  });

  // SC 1.4.3: 4.5 to 1 for text. SC 1.4.11: 3 to 1 for lines and shapes that carry meaning.
  it.each([
    ["ink", "paper", 4.5],
    ["muted", "paper", 4.5],
    ["plum", "paper", 4.5],
    ["ink", "tint", 4.5],
    ["muted", "tint", 4.5],
    ["plum", "tint", 4.5],
    ["ink", "paper-raised", 4.5],
    ["muted", "paper-raised", 4.5],
    ["on-plum", "plum", 4.5],
    ["on-plum", "plum-deep", 4.5],
    ["paper", "ink", 4.5],
    ["was", "paper", 3],
    ["was", "tint", 3],
    ["edge", "paper", 3],
  ])("%s on %s is at least %d to 1, light and dark", (front, back, least) => {
    for (const scheme of ["light", "dark"] as const) {
      const [a, b] = [pairs.get(front)![scheme], pairs.get(back)![scheme]];
      expect(contrast(a, b), `${scheme}: ${a} on ${b}`).toBeGreaterThanOrEqual(least);
    }
  });
});
