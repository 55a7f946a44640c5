// Runs one target over many mutants in a thread with a watchdog and a memory limit.
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { existsSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { Worker } from "node:worker_threads";
import { build } from "esbuild";
import { backupSqlite, openStore } from "../../src/store/index.ts";
import type { WorkerJob, WorkerMessage } from "./fuzz-worker.ts";
import type { TargetName } from "./targets.ts";

const root = resolve(import.meta.dirname, "../..");
const LARGEST_INPUT = 4_000_000;
const LOOK_EVERY_MS = 50;

export interface FuzzPlan {
  readonly target: TargetName;
  readonly count: number;
  readonly seed: number;
  /** An input that takes longer, twice, is a hang. */
  readonly maxMs: number;
  readonly maxMemoryMb: number;
}

export interface FuzzFailure {
  readonly index: number;
  readonly what: string;
  /** The input, to be made a test of. */
  readonly bytes: Uint8Array;
}

export interface FuzzOutcome {
  readonly count: number;
  readonly outcomes: ReadonlyMap<string, number>;
  readonly failures: readonly FuzzFailure[];
  readonly peakMb: number;
}

export interface Fuzzer {
  run(plan: FuzzPlan): Promise<FuzzOutcome>;
  remove(): void;
}

/** Builds the thread's program and a sound backup to damage. */
export async function createFuzzer(): Promise<Fuzzer> {
  const base = join(root, ".tsbuild", "test-programs");
  mkdirSync(base, { recursive: true });
  const program = mkdtempSync(join(base, "fuzz-"));
  await build({
    entryPoints: [join(root, "tests/fuzz/fuzz-worker.ts")],
    outdir: program,
    entryNames: "[name]",
    bundle: true,
    packages: "external",
    platform: "node",
    target: "node20",
    format: "esm",
    outExtension: { ".js": ".mjs" },
    logLevel: "error",
  });
  // In memory where there is such a place: a restored backup is synced, a hundred thousand times.
  const folder = mkdtempSync(join(existsSync("/dev/shm") ? "/dev/shm" : tmpdir(), "spondee-fuzz-"));
  const store = await openStore({ sqliteFile: join(folder, "a.sqlite") });
  if (store.sqlite === undefined) throw new Error("not SQLite");
  await store.db
    .insertInto("installation")
    .values(Array.from({ length: 40 }, (_, i) => ({ name: `n${i}`, value: "v".repeat(200) })))
    .execute();
  const { file } = await backupSqlite(store.sqlite, join(folder, "good.sqlite"));
  await store.close();
  const backup = new Uint8Array(readFileSync(file));
  return {
    run: (plan) => run(plan, { program: join(program, "fuzz-worker.mjs"), folder, backup }),
    remove() {
      for (const made of [program, folder]) rmSync(made, { recursive: true, force: true });
    },
  };
}

interface Tools {
  readonly program: string;
  readonly folder: string;
  readonly backup: Uint8Array;
}

async function run(plan: FuzzPlan, tools: Tools): Promise<FuzzOutcome> {
  const outcomes = new Map<string, number>();
  const failures: FuzzFailure[] = [];
  let peakBytes = 0;
  let from = 0;
  while (from < plan.count && failures.length < 20) {
    const stretch = await runThread(plan, tools, { from, to: plan.count });
    for (const [name, times] of stretch.outcomes) outcomes.set(name, (outcomes.get(name) ?? 0) + times);
    failures.push(...stretch.failures);
    peakBytes = Math.max(peakBytes, stretch.peakBytes);
    const { ended } = stretch;
    if (ended === null) break;
    // A busy machine can make any input slow once.
    const again = await runThread(plan, tools, { from: 0, to: 1, only: ended.bytes });
    if (again.ended !== null) failures.push({ ...ended, what: again.ended.what });
    from = ended.index + 1;
  }
  return { count: plan.count, outcomes, failures, peakMb: Math.round(peakBytes / 2 ** 20) };
}

interface Stretch {
  readonly outcomes: readonly (readonly [string, number])[];
  readonly failures: readonly FuzzFailure[];
  readonly peakBytes: number;
  /** The input at which the thread had to be ended; null when it came to its end. */
  readonly ended: FuzzFailure | null;
}

function runThread(
  plan: FuzzPlan,
  tools: Tools,
  range: { readonly from: number; readonly to: number; readonly only?: Uint8Array },
): Promise<Stretch> {
  const shared = new SharedArrayBuffer(8 + LARGEST_INPUT);
  const header = new Int32Array(shared, 0, 2);
  const workerData: WorkerJob = {
    target: plan.target,
    seed: plan.seed,
    maxBytes: plan.maxMemoryMb * 2 ** 20,
    shared,
    root,
    folder: tools.folder,
    backup: tools.backup,
    ...range,
  };
  return new Promise((resolveStretch, reject) => {
    const worker = new Worker(tools.program, {
      workerData,
      resourceLimits: { maxOldGenerationSizeMb: plan.maxMemoryMb },
    });
    const failures: FuzzFailure[] = [];
    let settled = false;
    let seen = 0;
    let seenAtMs = performance.now();
    const settle = (stretch: Omit<Stretch, "failures">): void => {
      if (settled) return;
      settled = true;
      clearInterval(timer);
      void worker.terminate().then(() => resolveStretch({ ...stretch, failures }), reject);
    };
    const endedAt = (what: string): void => {
      const index = range.from + Atomics.load(header, 0) - 1;
      const bytes = new Uint8Array(shared).slice(8, 8 + Atomics.load(header, 1));
      settle({ outcomes: [], peakBytes: 0, ended: { index, what, bytes } });
    };
    const timer = setInterval(() => {
      const begun = Atomics.load(header, 0);
      if (begun !== seen) {
        seen = begun;
        seenAtMs = performance.now();
      } else if (begun > 0 && performance.now() - seenAtMs > plan.maxMs) endedAt(`hang: longer than ${plan.maxMs} ms`);
    }, LOOK_EVERY_MS);
    worker.on("message", (message: WorkerMessage) => {
      if (message.kind === "failed") failures.push(message);
      else settle({ ...message, ended: null });
    });
    worker.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code === "ERR_WORKER_OUT_OF_MEMORY") endedAt(`memory: beyond ${plan.maxMemoryMb} MB`);
      else if (!settled) {
        settled = true;
        clearInterval(timer);
        reject(error);
      }
    });
  });
}
