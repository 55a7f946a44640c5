import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import {
  contradicts,
  type CountSetup,
  type Entry,
  expectedErrorSpm,
  judge,
  parseLapTime,
  parseNumber,
  toCountInput,
} from "./entry-model.ts";

const setup: CountSetup = {
  way: "contacts-in-time",
  seconds: 60,
  contacts: 50,
  feet: "one",
  surface: "outdoor",
  cue: "none",
  purpose: "baseline",
};
const entry = (text: string, more: Partial<Entry> = {}): Entry => ({
  id: "00000000-0000-7000-8000-000000000000",
  text,
  lapText: "",
  confirmed: false,
  measuredAt: "2026-03-02T18:00:00Z",
  ...more,
});

describe("typed counts", () => {
  it("closed form: 78 contacts of one foot in a minute are 156 spm, uncertain by 2/√6", () => {
    const judged = judge(entry("78"), setup);
    expect(judged.kind).toBe("fine");
    if (judged.kind !== "fine") return;
    expect(judged.rate.estimate).toBe(156);
    expectClose(judged.rate.standardError, 2 / Math.sqrt(6), { rtol: 1e-12, because: "triangular posterior" });
  });

  it("[M3] a both-feet number under one foot is asked about, never converted", () => {
    const judged = judge(entry("156"), setup);
    expect(judged).toMatchObject({ kind: "other-feet", likely: "both", contactsPerMinute: 156 });
    expect(toCountInput(entry("156"), setup)).toBeUndefined();
  });

  it("[M3] a short count is asked about by what it is in a minute: 39 in 15 s is 156", () => {
    const quarter = { ...setup, seconds: 15 };
    expect(judge(entry("39"), quarter)).toMatchObject({ kind: "other-feet", likely: "both", contactsPerMinute: 156 });
    expect(judge(entry("20"), quarter)).toMatchObject({ kind: "fine", rate: { estimate: 160 } });
  });

  it("[M3] asked and answered: it was both feet", () => {
    const answered = entry("156", { feet: "both" });
    expect(judge(answered, setup)).toMatchObject({ kind: "fine", rate: { estimate: 156 } });
    expect(toCountInput(answered, setup)).toMatchObject({ contacts: 156, feet: "both" });
  });

  it("[M3] a per-foot number under both feet is asked about too", () => {
    expect(judge(entry("79"), { ...setup, feet: "both" })).toMatchObject({ kind: "other-feet", likely: "one" });
  });

  it("an implausible number is sent only when the coach stands by it, and says so", () => {
    expect(judge(entry("55"), setup)).toMatchObject({ kind: "implausible", low: 60, high: 110 });
    expect(toCountInput(entry("55", { confirmed: true }), setup)).toMatchObject({ contacts: 55, confirmed: true });
  });

  it.each(["-3", "abc", "7 8", "1e2", "."])("%s is no number", (text) => {
    expect(judge(entry(text), setup).kind).toBe("not-a-number");
  });

  it.each(["0", "9999", "78.5"])("%s is impossible and never sent", (text) => {
    expect(judge(entry(text), setup).kind).toBe("impossible");
    expect(toCountInput(entry(text), setup)).toBeUndefined();
  });

  it("closed form: 50 contacts of one foot in 37.5 s are 160 spm", () => {
    const stopwatch: CountSetup = { ...setup, way: "time-of-contacts" };
    expect(judge(entry("37,5"), stopwatch)).toMatchObject({ kind: "fine", rate: { estimate: 160 } });
    expect(toCountInput(entry("37,5"), stopwatch)).toMatchObject({ contacts: 50, seconds: 37.5 });
  });

  it("a lap time goes with the count; an unreadable one holds it back", () => {
    const withLaps = { ...setup, lapLengthM: 400 };
    expect(toCountInput(entry("78", { lapText: "2:24" }), withLaps)).toMatchObject({ lapLengthM: 400, lapTimeS: 144 });
    expect(toCountInput(entry("78"), withLaps)).not.toHaveProperty("lapTimeS");
    expect(toCountInput(entry("78", { lapText: "2:7x" }), withLaps)).toBeUndefined();
  });

  it("[M2] 78 and 79 agree, 78 and 84 do not", () => {
    const of = (text: string) => judge(entry(text), setup);
    expect(contradicts(of("78"), of("79"))).toBe(false);
    expect(contradicts(of("78"), of("84"))).toBe(true);
    expect(contradicts(of("78"), of(""))).toBe(false);
  });

  it("closed form: the error told beforehand is 120/(T√6) spm for one foot, half that for both", () => {
    for (const seconds of [15, 30, 60])
      expectClose(expectedErrorSpm({ ...setup, seconds }), 120 / (seconds * Math.sqrt(6)), {
        rtol: 1e-12,
        because: "one contact too many or too few at random phase",
      });
    expectClose(expectedErrorSpm({ ...setup, feet: "both" }), 60 / (60 * Math.sqrt(6)), {
      rtol: 1e-12,
      because: "as above",
    });
  });
});

describe("numbers as people type them", () => {
  it("takes comma and point", () => {
    expect(parseNumber(" 36,4 ")).toBe(36.4);
    expect(parseNumber("36.4")).toBe(36.4);
    expect(parseNumber("")).toBeUndefined();
  });

  it("closed form: 1:52.4 is 112.4 s, 1:65 is none", () => {
    expect(parseLapTime("1:52.4")).toBeCloseTo(112.4, 9);
    expect(parseLapTime("112")).toBe(112);
    expect(parseLapTime("1:65")).toBeUndefined();
  });
});
