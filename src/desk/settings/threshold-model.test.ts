import { describe, expect, it } from "vitest";
import { allEvidence } from "../../engine/evidence/all.ts";
import { settingTable } from "../../engine/target/settings.ts";
import { shownValue, sourceLine, typedValue, unitText } from "./threshold-model.ts";

describe("thresholds as a coach reads them", () => {
  it("[T3] the usual rise is shown as percent and typed as percent", () => {
    expect(shownValue(settingTable.usualRiseShare, 0.075)).toBe("7.5");
    expect(typedValue(settingTable.usualRiseShare, "7,5")).toBe(0.075);
    expect(unitText(settingTable.usualRiseShare)).toBe("% of baseline");
  });

  it("[T4] what lies outside the permitted range is not taken", () => {
    expect(typedValue(settingTable.greatestRiseShare, "12")).toBeUndefined();
    expect(typedValue(settingTable.greatestRiseShare, "10")).toBe(0.1);
    expect(typedValue(settingTable.stageStepSpm, "x")).toBeUndefined();
  });

  it("property: every default survives being shown and typed again", () => {
    for (const setting of Object.values(settingTable))
      expect(typedValue(setting, shownValue(setting, setting.default)), setting.label).toBeCloseTo(setting.default, 8);
  });

  it("every threshold can say where it comes from", () => {
    for (const setting of Object.values(settingTable)) {
      const entry = allEvidence.find((one) => one.id === setting.evidence);
      expect(sourceLine(entry, {}), setting.label).not.toBe("");
    }
  });
});
