// Lanes for 500 runners: the limit is 50 ms; and how that compares with sorting the same runners.
import { performance } from "node:perf_hooks";
import { createRandom } from "../src/engine/quantities/random.ts";
import { type LaneOptions, type LaneRunner, makeLanes } from "../src/engine/group/lanes.ts";

const LIMIT_MS = 50;
const random = createRandom(500);

function group(count: number): LaneRunner[] {
  return Array.from({ length: count }, (_, index) => {
    const targetSpm = Math.round(2 * (166 + 6 * random.normal())) / 2;
    return { id: String(index), targetSpm, capSpm: targetSpm * 1.02, speedMps: 2.8 + 0.3 * random.normal() };
  });
}

function median(run: () => unknown, times = 21): number {
  for (let warm = 0; warm < 5; warm += 1) run();
  const tries = Array.from({ length: times }, () => {
    const start = performance.now();
    run();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return tries[Math.floor(times / 2)] ?? Number.NaN;
}

const runners = group(500);
const sortMs = median(() => [...runners].sort((a, b) => a.targetSpm - b.targetSpm));
const cases: readonly (readonly [string, LaneOptions])[] = [
  ["fewest beats, 500 runners", {}],
  ["six speakers, 500 runners", { speakerCount: 6 }],
];
for (const [name, options] of cases) {
  const ms = median(() => makeLanes(runners, options));
  const ok = ms < LIMIT_MS;
  process.stdout.write(
    `${name}: ${ms.toFixed(2)} ms, ${(ms / sortMs).toFixed(0)} × one sort of them; limit ${LIMIT_MS} ms: ${ok ? "met" : "MISSED"}\n`,
  );
  if (!ok) process.exitCode = 1;
}
const evening = group(60);
const lanes = makeLanes(evening, { speedBandMps: 0.4 });
process.stdout.write(
  `lanes that run together, 60 runners: ${median(() => makeLanes(evening, { speedBandMps: 0.4 }), 5).toFixed(2)} ms, ${lanes.lanes.length} lanes, ${lanes.provenFewest ? "proven fewest" : "not proven fewest"}\n`,
);
