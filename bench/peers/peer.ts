// The outside peer: the same rows fitted by R, when R is there.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";

export interface PeerResult {
  readonly seconds: number;
  readonly phaseEffect: number;
}

/** Undefined when R or its package is missing. Columns are equally long. */
export function timePeer(
  kind: "season" | "programme",
  columns: Readonly<Record<string, readonly number[]>>,
): PeerResult | undefined {
  const folder = mkdtempSync(path.join(tmpdir(), "spondee-bench-"));
  try {
    const file = path.join(folder, "rows.csv");
    const names = Object.keys(columns);
    const count = columns[names[0]!]!.length;
    const lines = Array.from({ length: count }, (_, i) => names.map((name) => columns[name]![i]).join(","));
    writeFileSync(file, [names.join(","), ...lines].join("\n"));
    const run = spawnSync("Rscript", [path.join(import.meta.dirname, "peer-mixed.R"), kind, file], {
      encoding: "utf8",
      timeout: 120_000,
    });
    const [seconds, phaseEffect] = (run.stdout ?? "").trim().split(" ").map(Number);
    return run.status === 0 && seconds !== undefined && phaseEffect !== undefined
      ? { seconds, phaseEffect }
      : undefined;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Median of some runs of `work`, in seconds of this process's computing. */
export function medianSeconds(repeats: number, work: () => void): number {
  const times = Array.from({ length: repeats }, () => {
    const started = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(started);
    return (user + system) / 1e6;
  });
  return times.toSorted((a, b) => a - b)[Math.floor(repeats / 2)]!;
}
