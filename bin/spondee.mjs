#!/usr/bin/env node
// The command of the checkout: sets up and builds when something changed, then hands over.
import { existsSync } from "node:fs";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");
const program = path.join(root, "dist/programs/main.mjs");

// Tests that start many commands check once, then say so.
if (process.env.SPONDEE_SKIP_SETUP !== "1" || !existsSync(program)) {
  const { setup, SetupError } = await import("../scripts/setup.mjs");
  try {
    await setup("start");
  } catch (error) {
    process.stderr.write(`spondee: ${error instanceof SetupError ? error.message : error.stack}\n`);
    process.exit(1);
  }
}
await import(pathToFileURL(program).href);
