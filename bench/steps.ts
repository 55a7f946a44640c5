// One hour of 100 Hz three-axis motion: our filters and peaks against scipy's, the whole analysis against a scipy pipeline
// of the same work, both against one pass over the samples; the live counter's cost per sample and what it keeps.
// The engine is bundled first, as it is shipped: loaded module by module it is a third slower.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { buildSync } from "esbuild";
import type * as StepsEngine from "./steps-engine.ts";

const folder = mkdtempSync(path.join(tmpdir(), "spondee-bench-"));
const bundle = path.join(folder, "engine.mjs");
buildSync({
  entryPoints: [path.join(import.meta.dirname, "steps-engine.ts")],
  outfile: bundle,
  bundle: true,
  format: "esm",
  platform: "node",
});
const { analyseMotion, createLiveSteps, designButterworth, findPeaks, makeSyntheticMotion, sosFiltFilt } =
  (await import(pathToFileURL(bundle).href)) as typeof StepsEngine;

const { recording } = makeSyntheticMotion({
  seed: 1,
  placement: "hand",
  segments: [{ state: "running", durationS: 3600, stepRateSpm: 164, endStepRateSpm: 172 }],
});
const { timeS, accelXMps2: x, accelYMps2: y, accelZMps2: z } = recording;
const n = timeS.length;

/** Best of several, in this process's own computing time, so that a busy machine does not blur it. */
function bestMs(run: () => unknown, times: number): number {
  let best = Infinity;
  for (let i = 0; i < times; i += 1) {
    const before = process.cpuUsage();
    const start = performance.now();
    run();
    const wall = performance.now() - start;
    const used = process.cpuUsage(before);
    // Helper threads (collecting, compiling) add to the first, waiting for the processor to the second.
    best = Math.min(best, wall, (used.user + used.system) / 1000);
  }
  return best;
}

const sections = designButterworth(2, { kind: "band-pass", lowHz: 0.5, highHz: 10 }, 100);
let peakCount = 0;
const kernelMs = bestMs(() => {
  const [a, b, c] = [sosFiltFilt(sections, x), sosFiltFilt(sections, y), sosFiltFilt(sections, z)];
  for (let i = 0; i < n; i += 1) a[i] = Math.sqrt(a[i]! * a[i]! + b[i]! * b[i]! + c[i]! * c[i]!);
  peakCount = findPeaks(a, { minDistance: 25, minProminence: 2 }).length;
}, 15);
let sum = 0;
const floorMs = bestMs(() => {
  sum = 0;
  for (let i = 0; i < n; i += 1) sum += x[i]! * x[i]! + y[i]! * y[i]! + z[i]! * z[i]!;
}, 15);
let stepCount = 0;
const wholeMs = bestMs(() => {
  stepCount = analyseMotion(recording).stepCount;
}, 12);

const file = path.join(folder, "samples.f64");
const interleaved = new Float64Array(3 * n);
for (let i = 0; i < n; i += 1) interleaved.set([x[i]!, y[i]!, z[i]!], 3 * i);
writeFileSync(file, new Uint8Array(interleaved.buffer));
const python = spawnSync("python3", [path.join(import.meta.dirname, "steps-scipy.py"), file], { encoding: "utf8" });
rmSync(folder, { recursive: true });

const line = (label: string, value: string): void => void process.stdout.write(`${label.padEnd(52)} ${value}\n`);
line("one pass over the samples", `${floorMs.toFixed(2)} ms`);
line("filters and peaks", `${kernelMs.toFixed(1)} ms, ${peakCount} peaks, ${(kernelMs / floorMs).toFixed(0)} passes`);
line(
  "whole analysis",
  `${wholeMs.toFixed(0)} ms, ${stepCount} steps, ${(wholeMs / floorMs).toFixed(0)} passes, ${(3_600_000 / wholeMs).toFixed(0)} times real time`,
);
if (python.status === 0) {
  const scipy = JSON.parse(python.stdout) as {
    readonly tool: string;
    readonly kernels: { readonly ms: number; readonly result: number };
    readonly sameWork: { readonly ms: number };
    readonly floor: { readonly ms: number };
  };
  line(`${scipy.tool}: filters and peaks`, `${scipy.kernels.ms.toFixed(1)} ms, ${scipy.kernels.result} peaks`);
  line("scipy: the same work as the whole analysis", `${scipy.sameWork.ms.toFixed(0)} ms`);
  line("ours / scipy, filters and peaks", `${(kernelMs / scipy.kernels.ms).toFixed(2)} (below 1 is faster)`);
  line("ours / scipy, same work", `${(wholeMs / scipy.sameWork.ms).toFixed(2)} (below 1 is faster)`);
  line("whole analysis / scipy filters and peaks alone", (wholeMs / scipy.kernels.ms).toFixed(1));
  if (peakCount !== scipy.kernels.result) {
    process.stdout.write("The two find different peaks: the comparison does not count.\n");
    process.exitCode = 1;
  }
  if (kernelMs > scipy.kernels.ms) process.exitCode = 1;
} else line("scipy", "not here: python3 with scipy is needed for the comparison");

// Twice: the first hour also pays for compiling.
for (const hour of [1, 2]) {
  const live = createLiveSteps();
  for (let i = 0; i < 6000; i += 1) live.push(timeS[i]!, x[i]!, y[i]!, z[i]!);
  globalThis.gc?.();
  const before = process.memoryUsage();
  const us =
    (1000 *
      bestMs(() => {
        for (let i = 6000; i < n; i += 1) live.push(timeS[i]!, x[i]!, y[i]!, z[i]!);
      }, 1)) /
    (n - 6000);
  globalThis.gc?.();
  const after = process.memoryUsage();
  const grownKb = (after.heapUsed + after.arrayBuffers - before.heapUsed - before.arrayBuffers) / 1024;
  line(
    `live, hour ${hour}`,
    `${us.toFixed(2)} µs a sample, heap ${grownKb.toFixed(0)} kB after the hour${globalThis.gc ? "" : " (not collected: run node with --expose-gc)"}, ${live.read().stepCount} steps`,
  );
}
if (!Number.isFinite(sum)) process.exitCode = 1;
