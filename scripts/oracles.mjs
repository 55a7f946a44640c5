// Makes every reference value again with its own tool and says what differs. The stored files stay as they are.
// Usage: npm run oracles [-- PART…]   for example: npm run oracles -- gls. Needs R with lme4, lmerTest, nlme and jsonlite, Python with scipy.
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const ROOT = join(import.meta.dirname, "..");
/** Other machines round otherwise; far below the tolerance of any test. */
const RELATIVE = 1e-6;
const wanted = process.argv.slice(2);
const parts = readdirSync(join(ROOT, "oracles")).filter((part) => wanted.length === 0 || wanted.includes(part));
const copy = mkdtempSync(join(tmpdir(), "oracles-"));
let differing = 0;
try {
  cpSync(join(ROOT, "oracles"), join(copy, "oracles"), { recursive: true });
  for (const part of parts) for (const script of scriptsOf(part)) remake(part, script);
  for (const part of parts)
    for (const file of readdirSync(join(ROOT, "oracles", part)).filter((name) => name.endsWith(".json")))
      compare(join("oracles", part, file));
} finally {
  rmSync(copy, { recursive: true, force: true });
}
process.exitCode = differing > 0 ? 1 : 0;

function scriptsOf(part) {
  return readdirSync(join(ROOT, "oracles", part)).filter((name) => /^make.*\.(R|py)$/.test(name));
}

function remake(part, script) {
  const [command, file] = [script.endsWith(".R") ? "Rscript" : "python3", join("oracles", part, script)];
  const run = spawnSync(command, [file], { cwd: copy, encoding: "utf8", maxBuffer: 2 ** 28 });
  if (run.error !== undefined || run.status !== 0) {
    differing += 1;
    process.stdout.write(`${file}: cannot be run (${run.error?.message ?? run.stderr.trim().split("\n").at(-1)})\n`);
    return;
  }
  // A script that writes to its output instead of a file.
  if (run.stdout.trimStart().startsWith("{")) writeFileSync(join(copy, "oracles", part, "values.json"), run.stdout);
}

function compare(file) {
  const [kept, made] = [ROOT, copy].map((root) => JSON.parse(readFileSync(join(root, file), "utf8")));
  const found = differences(kept, made, "").filter((one) => !one.startsWith(".header"));
  if (found.length > 0) differing += 1;
  process.stdout.write(
    found.length === 0
      ? `${file}: the same\n`
      : `${file}: ${found.length} differ, first ${found.slice(0, 3).join("; ")}\n`,
  );
}

function differences(kept, made, path) {
  if (typeof kept === "number" && typeof made === "number")
    return Math.abs(kept - made) <= RELATIVE * Math.max(Math.abs(kept), 1e-6) ? [] : [`${path} ${kept} → ${made}`];
  if (kept === null || typeof kept !== "object" || made === null || typeof made !== "object")
    return kept === made ? [] : [`${path} ${String(kept).slice(0, 40)} → ${String(made).slice(0, 40)}`];
  const keys = new Set([...Object.keys(kept), ...Object.keys(made)]);
  return [...keys].flatMap((key) => differences(kept[key], made[key], `${path}.${key}`));
}
