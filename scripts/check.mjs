// Format, types, lint, architecture and dead code, one after the other; says which failed.
import { spawnSync } from "node:child_process";
import { root } from "./tools.mjs";

const checks = [
  ["format", "biome", ["format", "."]],
  ["types", "tsc", ["-b"]],
  ["types of tests", "tsc", ["-p", "tsconfig.tests.json"]],
  ["lint", "oxlint", ["--type-aware", "--deny-warnings"]],
  ["architecture", "depcruise", ["src"]],
  ["dead code", "knip", []],
];

const failed = checks.filter(([name, command, args]) => {
  const result = spawnSync(`node_modules/.bin/${command}`, args, { cwd: root, stdio: "inherit" });
  process.stdout.write(`${result.status === 0 ? "fine" : "FAILED"}: ${name}\n`);
  return result.status !== 0;
});
process.exitCode = failed.length === 0 ? 0 : 1;
