// Runs every benchmark, one after the other, so that none disturbs another. Each prints its own ratios.
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import path from "node:path";

const only = process.argv[2];
const names = readdirSync(import.meta.dirname)
  .filter((name) => name.endsWith(".ts") && name !== "all.ts")
  .filter((name) => only === undefined || name === `${only}.ts`)
  .sort();
if (names.length === 0) {
  process.stderr.write(`There is no benchmark called ${only ?? ""}.\n`);
  process.exitCode = 2;
}
for (const name of names) {
  process.stdout.write(`\n== ${name.replace(/\.ts$/, "")}\n`);
  const result = spawnSync(process.execPath, ["--import", "tsx", path.join(import.meta.dirname, name)], {
    stdio: "inherit",
  });
  if (result.status !== 0) process.exitCode = 1;
}
