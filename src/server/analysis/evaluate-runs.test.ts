import { expect, test } from "vitest";
import type { RateWindow } from "../../engine/recordings/window.ts";
import { defaultSettings } from "../../engine/target/settings.ts";
import { expectClose } from "../../../tests/expect-close.ts";
import { evaluateRuns } from "./evaluate-runs.ts";
import type { RecordingInput } from "./runner-state.ts";
import { cueAt, keptWindows } from "./windows.ts";

const steady = (stepRateSpm: number, speedMps: number, minutes = 15): RateWindow[] =>
  Array.from({ length: minutes * 6 }, (_, index) => ({
    startS: 10 * index,
    endS: 10 * index + 10,
    stepRateSpm,
    speedMps,
    slope: 0,
    heartRateBpm: null,
    quality: 1,
    state: "running" as const,
    cue: null,
  }));
const recording = (id: string, windows: readonly RateWindow[], more: Partial<RecordingInput> = {}): RecordingInput => ({
  id,
  startedAt: "2026-03-10T17:00:00.000Z",
  phase: "during",
  surface: "outdoor",
  effortRating: null,
  trimStartS: 0,
  trimEndS: null,
  cueBlocks: [],
  distanceM: null,
  windows,
  ...more,
});
const input = (recordings: readonly RecordingInput[]) => ({
  counts: [],
  recordings,
  acceptedTargetSpm: 170,
  stageTargets: [
    { from: "2026-03-05", targetSpm: 164 },
    { from: "2026-03-12", targetSpm: 166 },
  ],
  settings: defaultSettings,
});
const exact = { rtol: 1e-9, because: "steady windows without noise" };

test("closed form: the change at matched speed is what the speed exponent does not explain", () => {
  const before = recording("a", steady(160, 2.5), { phase: "before" });
  const slid = recording("b", steady(160 * 1.1 ** 0.15, 2.75));
  const lifted = recording("c", steady(168, 2.5));
  const runs = evaluateRuns(input([before, slid, lifted]), { speedMps: 2.5, exponent: 0.15 });
  expect(runs[0]?.matchedChangeSpm).toBeNull();
  expectClose(runs[1]?.matchedChangeSpm ?? NaN, 0, { atol: 1e-9, because: "it slid along its own line" });
  expectClose(runs[2]?.matchedChangeSpm ?? NaN, 8, exact);
  expectClose(runs[1]?.split?.lnSpeed ?? NaN, Math.log(1.1), exact);
});

test("the share in the band is of the time with the beat, against the target of that day", () => {
  // 164 on 10 March; the band is 1.5 % either side: 161.54 to 166.46.
  const windows = [
    ...steady(163, 2.5, 8),
    ...steady(159, 2.5, 4).map((w) => ({ ...w, startS: w.startS + 480, endS: w.endS + 480 })),
  ];
  const [run] = evaluateRuns(input([recording("a", windows)]), { speedMps: 2.5, exponent: 0.15 });
  expect(run?.targetSpm).toBe(164);
  expectClose(run?.inBandShare ?? NaN, 8 / 12, exact);
  const marked = recording("b", windows, {
    cueBlocks: [
      { startS: 0, endS: 480, cue: "on", targetSpm: 163 },
      { startS: 480, endS: 720, cue: "off" },
    ],
  });
  const [second] = evaluateRuns(input([marked]), { speedMps: 2.5, exponent: 0.15 });
  expect(second).toMatchObject({ targetSpm: 163, inBandShare: 1 });
  expectClose(second?.cueOffSpm ?? NaN, 159, exact);
});

test("a trim cuts windows away, and marks go by the middle of a window", () => {
  const windows = steady(160, 2.5, 2);
  const kept = keptWindows({ windows, trimStartS: 20, trimEndS: 65, cueBlocks: [] });
  expect(kept.map((window) => window.startS)).toEqual([20, 30, 40, 50]);
  const blocks = [{ startS: 0, endS: 25, cue: "on" as const }];
  expect([0, 10, 20, 30].map((startS) => cueAt(blocks, { startS, endS: startS + 10 }))).toEqual([
    "on",
    "on",
    null,
    null,
  ]);
});
