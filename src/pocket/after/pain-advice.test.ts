import { describe, expect, it } from "vitest";
import { painAdvice } from "./pain-form.tsx";

const said = (score: number | undefined, signs: Parameters<typeof painAdvice>[0]["signs"] = []) =>
  painAdvice({ score, place: "", signs });

describe("what the phone says to pain", () => {
  it("[D1] above 5 of 10, or any sign at any score, it says stop and see a clinician", () => {
    for (const advice of [said(6), said(10), said(1, ["bone-spot"]), said(2, ["limp", "swelling"])])
      expect(advice).toMatch(/^Stop running.*doctor or physiotherapist/);
    expect(said(5)).not.toMatch(/^Stop/);
  });

  it("[D2] at 3 to 5 it says easier and a day's wait; below that, watch it; at nothing, nothing", () => {
    for (const score of [3, 4, 5]) expect(said(score)).toMatch(/wait a day/);
    for (const score of [1, 2]) expect(said(score)).toMatch(/^Watch it/);
    expect(said(0)).toBeUndefined();
    expect(said(undefined)).toBeUndefined();
  });
});
