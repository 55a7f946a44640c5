// The thread that is fuzzed in: tells its progress through shared memory, so that it can be ended when it hangs.
import { parentPort, workerData } from "node:worker_threads";
import { createRandom } from "../../src/engine/quantities/random.ts";
import { mutate } from "./mutate.ts";
import { type FuzzPlace, makeTarget, type TargetName } from "./targets.ts";

/** Layout of the shared memory: how many inputs were begun, length of the present one, then its bytes. */
export const HEADER_BYTES = 8;

export interface WorkerJob extends FuzzPlace {
  readonly target: TargetName;
  readonly seed: number;
  readonly from: number;
  readonly to: number;
  readonly maxBytes: number;
  readonly shared: SharedArrayBuffer;
  /** These bytes and nothing else: to look at a slow input once more. */
  readonly only?: Uint8Array;
}

export type WorkerMessage =
  | { readonly kind: "failed"; readonly index: number; readonly what: string; readonly bytes: Uint8Array }
  | { readonly kind: "done"; readonly outcomes: readonly (readonly [string, number])[]; readonly peakBytes: number };

/** Inputs that gave a new outcome are mutated further. */
const MOST_FOUND = 300;
const MOST_FAILURES = 20;

const job = workerData as WorkerJob;
const target = makeTarget(job.target, job);
const header = new Int32Array(job.shared, 0, 2);
const room = new Uint8Array(job.shared, HEADER_BYTES);
const outcomes = new Map<string, number>();
const corpus = [...target.seeds];
let peakBytes = 0;
let failures = 0;

for (let index = job.from; index < job.to && failures < MOST_FAILURES; index += 1) {
  const bytes = job.only ?? mutate(corpus, createRandom(job.seed * 1_000_003 + index));
  room.set(bytes.subarray(0, room.length));
  Atomics.store(header, 1, Math.min(bytes.length, room.length));
  Atomics.store(header, 0, index - job.from + 1);
  let outcome: string;
  try {
    outcome = target.run(bytes);
  } catch (error) {
    outcome = "failed";
    failures += 1;
    say({
      kind: "failed",
      index,
      what: told(error),
      bytes,
    });
  }
  const { heapUsed, external } = process.memoryUsage();
  peakBytes = Math.max(peakBytes, heapUsed + external);
  if (heapUsed + external > job.maxBytes && outcome !== "failed") {
    failures += 1;
    say({ kind: "failed", index, what: `memory: ${Math.round((heapUsed + external) / 2 ** 20)} MB`, bytes });
  }
  const seen = outcomes.get(outcome) ?? 0;
  if (seen === 0 && corpus.length < MOST_FOUND && bytes.length > 0 && bytes.length < 50_000) corpus.push(bytes);
  outcomes.set(outcome, seen + 1);
}
say({ kind: "done", outcomes: [...outcomes], peakBytes });

function say(message: WorkerMessage): void {
  parentPort?.postMessage(message);
}

/** The message and where it came from. */
function told(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  return (error.stack ?? error.message).split("\n").slice(0, 5).join("\n");
}
