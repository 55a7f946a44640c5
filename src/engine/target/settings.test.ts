import { describe, expect, it } from "vitest";
import { allEvidence } from "../evidence/all.ts";
import { checkSettings, defaultSettings, type SettingKey, settingTable } from "./settings.ts";

describe("settings", () => {
  it("every default lies in its own range and comes from evidence", () => {
    const ids = new Set(allEvidence.map((entry) => entry.id));
    for (const [key, entry] of Object.entries(settingTable)) {
      expect(entry.default, key).toBeGreaterThanOrEqual(entry.low);
      expect(entry.default, key).toBeLessThanOrEqual(entry.high);
      expect(ids.has(entry.evidence), `${key} from ${entry.evidence}`).toBe(true);
      expect(entry.rules.length, key).toBeGreaterThan(0);
    }
    expect(checkSettings({})).toEqual({ ok: true, value: defaultSettings, warnings: [] });
  });

  it("tells every fault at once and clips nothing", () => {
    const result = checkSettings({ painReferLimit: 9, tempo: 1, bandShare: "wide", stageStepSpm: 3 });
    expect(result.ok).toBe(false);
    if (result.ok) return;
    expect(result.problems.map((problem) => [problem.code, problem.where.field])).toEqual([
      ["setting-out-of-range", "painReferLimit"],
      ["unknown-setting", "tempo"],
      ["setting-out-of-range", "bandShare"],
    ]);
  });

  it("does not take inherited names for settings", () => {
    const result = checkSettings({ toString: 1 });
    expect(!result.ok && result.problems[0]!.code).toBe("unknown-setting");
  });

  it("refuses pairs that contradict each other", () => {
    const result = checkSettings({ painEaseLimit: 1, painStartLimit: 2 });
    expect(!result.ok && result.problems[0]!.code).toBe("settings-contradict");
  });

  it("[D1] caps, pain limits and waiting times can be tightened, not loosened", () => {
    const ends: readonly (readonly [SettingKey, "low" | "high"])[] = [
      ["greatestRiseShare", "high"],
      ["carefulRiseShare", "high"],
      ["painStartLimit", "high"],
      ["painEaseLimit", "high"],
      ["painReferLimit", "high"],
      ["painRecheckHours", "high"],
      ["longRunLimitShare", "high"],
      ["missedWeeksBack", "high"],
      ["stageDaysMin", "low"],
      ["runsPerSideMin", "low"],
    ];
    for (const [key, end] of ends) expect(settingTable[key][end], key).toBe(settingTable[key].default);
  });

  it("[T4] the cap can be lowered, not raised", () => {
    expect(checkSettings({ greatestRiseShare: 0.08 }).ok).toBe(true);
    expect(checkSettings({ greatestRiseShare: 0.12 }).ok).toBe(false);
  });
});
