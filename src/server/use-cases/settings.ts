// A group's settings: defaults with the coach's changes on top.
import type { Settings, SettingsInput } from "../../api/index.ts";
import { CLICK_SOUNDS } from "../../engine/beat/clicks.ts";
import type { DisplayUnits } from "../../engine/quantities/display.ts";
import type { Problem } from "../../engine/quantities/problem.ts";
import { type AdviceSettings, checkSettings, defaultSettings } from "../../engine/target/settings.ts";

const defaults: Settings = {
  distanceUnit: "km",
  heightUnit: "cm",
  feetShown: "both",
  lanesTolerancePercent: 100 * defaultSettings.laneToleranceShare,
  click: "wood",
  locale: "",
  thresholds: {},
  beatTrackFormat: "flac",
  eveningTime: "",
};

export function readSettings(settingsJson: string): Settings {
  return { ...defaults, ...(JSON.parse(settingsJson) as Partial<Settings>) };
}

/** What is stored: only what differs from the defaults, so that a better default reaches everyone who did not choose. */
export function changeSettings(settingsJson: string, input: SettingsInput): string {
  const stored = { ...(JSON.parse(settingsJson) as Partial<Settings>), ...input };
  const differing = Object.entries(stored).filter(
    ([key, value]) => JSON.stringify(value) !== JSON.stringify(defaults[key as keyof Settings]),
  );
  return JSON.stringify(Object.fromEntries(differing));
}

export function settingsProblems(input: SettingsInput): readonly Problem[] {
  const thresholds = checkSettings(input.thresholds ?? {});
  const problems = thresholds.ok ? [] : [...thresholds.problems];
  if (input.click !== undefined && !CLICK_SOUNDS.some((click) => click.id === input.click))
    problems.push({
      code: "unknown-click",
      where: { field: "click" },
      got: input.click,
      expected: CLICK_SOUNDS.map((click) => click.id).join(", "),
      remedy: "Choose one of these sounds.",
    });
  return problems;
}

/** How the coach reads numbers. */
export function unitsOf(settings: Settings): DisplayUnits {
  return { feet: settings.feetShown, speed: settings.distanceUnit === "mile" ? "min-per-mile" : "min-per-km" };
}

/** Thresholds for the engine. The tolerance of lanes has a field of its own. */
export function adviceSettings(settings: Settings): AdviceSettings {
  const checked = checkSettings(settings.thresholds);
  return {
    ...(checked.ok ? checked.value : defaultSettings),
    laneToleranceShare: settings.lanesTolerancePercent / 100,
  };
}
