// Every reader of files against mutants of valid files: no crash, no hang, no great memory, always an answer in words.
// Long run: SPONDEE_LONG=1 npx vitest run tests/fuzz (docs/reliability.md).
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createFuzzer, type Fuzzer } from "./run-fuzz.ts";
import { targetNames, trapNames } from "./targets.ts";

const LONG = process.env["SPONDEE_LONG"] !== undefined;
const SEED = Number(process.env["SPONDEE_SEED"] ?? 8);
/** A short run also stands on a busy machine, so its watchdog only ends what never ends. */
const MAX_MS = LONG ? 2000 : 20_000;
const MAX_MEMORY_MB = 512;
/** Inputs of a run: a restore writes files, an analysis computes. */
const SHORT = { restore: 60, analysis: 150 } as Readonly<Record<string, number>>;
const MANY = { analysis: 20_000 } as Readonly<Record<string, number>>;

let fuzzer: Fuzzer;
beforeAll(async () => {
  fuzzer = await createFuzzer();
});
afterAll(() => fuzzer.remove());

describe("readers", () => {
  test.each(targetNames)(
    `property: %s answers every mutant in words (seed ${SEED})`,
    async (target) => {
      const count = LONG ? (MANY[target] ?? 100_000) : (SHORT[target] ?? 1500);
      const startedMs = performance.now();
      const { outcomes, failures, peakMb } = await fuzzer.run({
        target,
        count,
        seed: SEED,
        maxMs: MAX_MS,
        maxMemoryMb: MAX_MEMORY_MB,
      });
      for (const failure of failures) keep(target, failure.index, failure.bytes);
      expect(failures.map((failure) => `${failure.index}: ${failure.what}`)).toEqual([]);
      const total = [...outcomes.values()].reduce((sum, times) => sum + times, 0);
      expect(total).toBe(count);
      // A run in which everything is refused at the door, or nothing is, tries nothing.
      const read = [...outcomes].filter(([name]) => name.startsWith("read")).reduce((sum, [, times]) => sum + times, 0);
      expect(read).toBeGreaterThan(count / 50);
      expect(read).toBeLessThan(count);
      if (LONG) {
        const seconds = ((performance.now() - startedMs) / 1000).toFixed(0);
        process.stdout.write(
          `${target}: ${count} mutants in ${seconds} s, ${read} read, ${outcomes.size} outcomes, at most ${peakMb} MB\n`,
        );
      }
    },
    LONG ? 1_800_000 : 60_000,
  );
});

describe("the fuzzer itself", () => {
  test.each(trapNames)("notices a reader that misbehaves: %s", async (target) => {
    const { failures } = await fuzzer.run({ target, count: 40, seed: 1, maxMs: 700, maxMemoryMb: 64 });
    const expected = {
      "trap-throws": /TypeError/,
      "trap-hangs": /^hang/,
      "trap-eats-memory": /^(memory|hang)/,
      "trap-hoards-bytes": /^memory/,
      "trap-lies": /refused without a reason/,
    }[target];
    expect(failures.length).toBeGreaterThan(0);
    for (const failure of failures) expect(failure.what).toMatch(expected);
  });
});

/** A failing input is kept, to become a test. */
function keep(target: string, index: number, bytes: Uint8Array): void {
  const folder = join(import.meta.dirname, "../../.tsbuild/fuzz-failures");
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, `${target}-${SEED}-${index}`), bytes);
}
