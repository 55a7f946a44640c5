// The analysis thread: one request at a time, in the order they come.
import { parentPort } from "node:worker_threads";
import { analyseFile } from "./analyse-file.ts";
import { evaluateProgramme } from "./evaluate-programme.ts";
import { evaluateRunner } from "./evaluate-runner.ts";
import type { ThreadAnswer, ThreadRequest } from "./thread-messages.ts";

parentPort?.on("message", (request: ThreadRequest) => {
  parentPort?.postMessage(answer(request));
});

function answer(request: ThreadRequest): ThreadAnswer {
  const { id } = request;
  try {
    switch (request.kind) {
      case "read":
        return { id, kind: "read", result: analyseFile(request.bytes, request.labels) };
      case "evaluate":
        return { id, kind: "evaluate", state: evaluateRunner(request.input) };
      case "programme":
        return { id, kind: "programme", outcome: evaluateProgramme(request.runners) };
    }
  } catch (error) {
    return { id, kind: "failed", message: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}
