// Runs every test: unit, property, API on both databases, and real browsers. The last line is the runner's own summary.
import { spawn } from "node:child_process";
import path from "node:path";
import { startTestDatabase } from "./test-database.mjs";
import { findChromium, findPostgres, root } from "./tools.mjs";

const args = process.argv.slice(2).filter((arg) => arg !== "--long");
const long = process.argv.includes("--long");

const database = await startTestDatabase(findPostgres());
const child = spawn(process.execPath, [path.join(root, "node_modules/vitest/vitest.mjs"), "run", ...args], {
  cwd: root,
  stdio: "inherit",
  env: {
    ...process.env,
    SPONDEE_TEST_DATABASE_URL: database.url,
    SPONDEE_CHROMIUM: findChromium(),
    ...(long ? { SPONDEE_LONG: "1" } : {}),
  },
});
for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => child.kill(signal));
child.on("exit", (code) => {
  database.stop();
  process.exitCode = code ?? 1;
});
