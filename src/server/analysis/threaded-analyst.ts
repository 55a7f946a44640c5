// Keeps the event loop free: a thread that is started on first use, ended when it takes too long, and started anew.
import { Worker } from "node:worker_threads";
import { fail } from "../../engine/quantities/problem.ts";
import { type Analyst, tooSlow } from "./analyst.ts";
import type { ThreadAnswer, ThreadRequest } from "./thread-messages.ts";

export interface ThreadOptions {
  readonly engineVersion: string;
  /** The built worker program. */
  readonly workerFile: string | URL;
  readonly maxMs: number;
  readonly maxMemoryMb: number;
}

type Body = ThreadRequest extends infer R ? (R extends ThreadRequest ? Omit<R, "id"> : never) : never;
interface Waiting {
  readonly request: ThreadRequest;
  readonly resolve: (answer: ThreadAnswer | "too-slow") => void;
  readonly reject: (error: Error) => void;
}

export function createThreadedAnalyst(options: ThreadOptions): Analyst {
  const queue: Waiting[] = [];
  let worker: Worker | undefined;
  let current: Waiting | undefined;
  let timer: NodeJS.Timeout | undefined;
  let nextId = 1;
  let closed = false;

  const settle = (finish: (waiting: Waiting) => void): void => {
    clearTimeout(timer);
    const done = current;
    current = undefined;
    if (done !== undefined) finish(done);
    startNext();
  };

  const stop = (): void => {
    const ended = worker;
    worker = undefined;
    ended?.removeAllListeners();
    void ended?.terminate();
  };

  const start = (): Worker => {
    const started = new Worker(options.workerFile, {
      resourceLimits: { maxOldGenerationSizeMb: options.maxMemoryMb },
    });
    started.on("message", (answer: ThreadAnswer) => settle((waiting) => waiting.resolve(answer)));
    // Out of memory, or the program itself is broken: this request fails, the next one gets a new thread.
    started.on("error", (error) => {
      stop();
      settle((waiting) =>
        (error as NodeJS.ErrnoException).code === "ERR_WORKER_OUT_OF_MEMORY"
          ? waiting.resolve("too-slow")
          : waiting.reject(error),
      );
    });
    started.unref();
    return started;
  };

  const startNext = (): void => {
    if (current !== undefined || closed) return;
    current = queue.shift();
    if (current === undefined) return;
    worker ??= start();
    timer = setTimeout(() => {
      stop();
      settle((waiting) => waiting.resolve("too-slow"));
    }, options.maxMs);
    worker.postMessage(current.request);
  };

  const ask = (body: Body): Promise<ThreadAnswer | "too-slow"> =>
    new Promise((resolve, reject) => {
      if (closed) return reject(new Error("analysis: closed"));
      const request = { ...body, id: nextId } as ThreadRequest;
      nextId += 1;
      queue.push({ request, resolve, reject });
      startNext();
    });

  return {
    engineVersion: options.engineVersion,
    async readFile(bytes, labels) {
      const answer = await ask({ kind: "read", bytes, labels });
      if (answer === "too-slow") return fail(tooSlow(labels.fileName));
      if (answer.kind !== "read") throw new Error(answer.kind === "failed" ? answer.message : "analysis: wrong answer");
      return answer.result;
    },
    async evaluate(input) {
      const answer = await ask({ kind: "evaluate", input });
      if (answer === "too-slow") throw new Error("analysis: evaluating took too long");
      if (answer.kind !== "evaluate")
        throw new Error(answer.kind === "failed" ? answer.message : "analysis: wrong answer");
      return answer.state;
    },
    async programme(runners) {
      const answer = await ask({ kind: "programme", runners });
      if (answer === "too-slow") throw new Error("analysis: the programme took too long");
      if (answer.kind !== "programme")
        throw new Error(answer.kind === "failed" ? answer.message : "analysis: wrong answer");
      return answer.outcome;
    },
    async close() {
      closed = true;
      clearTimeout(timer);
      for (const waiting of queue.splice(0)) waiting.reject(new Error("analysis: closed"));
      current?.reject(new Error("analysis: closed"));
      const ended = worker;
      worker = undefined;
      await ended?.terminate();
    },
  };
}
