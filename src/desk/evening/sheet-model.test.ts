import { describe, expect, it } from "vitest";
import { changeSheet, emptySheet, FIRST_SETUP } from "./sheet-model.ts";

const at = "2026-03-02T18:00:00Z";

describe("the evening's sheet", () => {
  it("keeps one id and time per entry however often it is retyped", () => {
    let sheet = changeSheet(emptySheet(), { kind: "type", runnerId: "r", text: "7", id: "first", at });
    sheet = changeSheet(sheet, { kind: "type", runnerId: "r", text: "78", id: "second", at: "later" });
    expect(sheet.rounds[0]?.entries["r"]).toEqual({
      id: "first",
      measuredAt: at,
      text: "78",
      lapText: "",
      confirmed: false,
    });
  });

  it("new digits take back what was confirmed about the old ones", () => {
    let sheet = changeSheet(emptySheet(), { kind: "type", runnerId: "r", text: "156", id: "a", at });
    sheet = changeSheet(sheet, { kind: "answer", runnerId: "r", feet: "both" });
    expect(sheet.rounds[0]?.entries["r"]?.feet).toBe("both");
    sheet = changeSheet(sheet, { kind: "type", runnerId: "r", text: "15", id: "b", at });
    expect(sheet.rounds[0]?.entries["r"]?.feet).toBeUndefined();
  });

  it("a new round leaves the earlier one as it was, and an empty one is not added", () => {
    let sheet = changeSheet(emptySheet(), { kind: "next-round" });
    expect(sheet.rounds).toHaveLength(1);
    sheet = changeSheet(sheet, { kind: "type", runnerId: "r", text: "78", id: "a", at });
    sheet = changeSheet(sheet, { kind: "next-round" });
    sheet = changeSheet(sheet, { kind: "type", runnerId: "r", text: "79", id: "b", at });
    expect(sheet.rounds.map((round) => round.entries["r"]?.text)).toEqual(["78", "79"]);
    expect(sheet.rounds.map((round) => round.entries["r"]?.id)).toEqual(["a", "b"]);
  });

  it("changing how is counted never changes what the typed numbers mean", () => {
    const typed = changeSheet(emptySheet(), { kind: "type", runnerId: "r", text: "20", id: "a", at });
    const quarter = changeSheet(changeSheet(emptySheet(), { kind: "setup", setup: { ...FIRST_SETUP, seconds: 15 } }), {
      kind: "type",
      runnerId: "r",
      text: "20",
      id: "a",
      at,
    });
    expect(quarter.rounds).toHaveLength(1);
    const minute = changeSheet(quarter, { kind: "setup", setup: { ...FIRST_SETUP, seconds: 60 } });
    expect(minute.rounds.map((round) => round.setup.seconds)).toEqual([15, 60]);
    expect(minute.rounds[0]?.entries["r"]?.text).toBe("20");
    // The surface says nothing about the number: it belongs to the round as it is.
    expect(changeSheet(typed, { kind: "setup", setup: { ...FIRST_SETUP, surface: "treadmill" } }).rounds).toHaveLength(
      1,
    );
  });

  it("a lap time may come before the count", () => {
    let sheet = changeSheet(emptySheet(), { kind: "lap", runnerId: "r", text: "1:52", id: "a", at });
    sheet = changeSheet(sheet, { kind: "type", runnerId: "r", text: "78", id: "b", at });
    expect(sheet.rounds[0]?.entries["r"]).toMatchObject({ id: "a", text: "78", lapText: "1:52" });
  });
});
