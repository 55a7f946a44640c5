// Prepares a fresh checkout with Node's own modules only: packages, build, and for tests the browser and the database.
// Quick when nothing changed. Prints one line per step, on stderr, so that JSON on stdout stays clean.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { findChromium, findPostgres, root } from "./tools.mjs";

const installStamp = path.join(root, "node_modules", ".spondee-installed");

export class SetupError extends Error {
  name = "SetupError";
}

const say = (text) => process.stderr.write(`spondee setup: ${text}\n`);

function run(command, args, options = {}) {
  const result = spawnSync(command, args, { cwd: root, stdio: ["ignore", 2, 2], ...options });
  if (result.error) return { ok: false, why: result.error.message };
  return { ok: result.status === 0, why: `${command} ended with ${result.status ?? result.signal}` };
}

const has = (command) => spawnSync("sh", ["-c", `command -v ${command}`], { stdio: "ignore" }).status === 0;

function checkNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  if (major > 20 || (major === 20 && minor >= 19)) return;
  throw new SetupError(`Node ${process.versions.node} is too old. Install Node 20.19 or newer, then run this again.`);
}

/** Installs Debian packages, as root or through sudo without a password. */
function aptInstall(packages, purpose) {
  const hand = `Install by hand: sudo apt-get install ${packages.join(" ")}`;
  if (!has("apt-get")) throw new SetupError(`${purpose} is missing and apt-get is not on this machine. ${hand}`);
  const isRoot = process.getuid?.() === 0;
  if (!isRoot && spawnSync("sudo", ["-n", "true"], { stdio: "ignore" }).status !== 0) {
    throw new SetupError(`${purpose} is missing and needs an administrator. ${hand}`);
  }
  const apt = (...args) =>
    run(
      isRoot ? "apt-get" : "sudo",
      [...(isRoot ? [] : ["-n", "apt-get"]), "-o", "DPkg::Lock::Timeout=300", "-qq", ...args],
      {
        env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
      },
    );
  say(`installing ${packages.join(", ")} with apt (${purpose}), a minute or two`);
  apt("update");
  const outcome = apt("install", "-y", "--no-install-recommends", ...packages);
  if (!outcome.ok) throw new SetupError(`apt could not install ${packages.join(", ")}: ${outcome.why}. ${hand}`);
}

function installKey() {
  const hash = createHash("sha256");
  hash.update(readFileSync(path.join(root, "package-lock.json")));
  // A compiled addon belongs to one Node ABI and one kind of machine.
  hash.update(`${process.versions.modules} ${process.platform} ${process.arch}`);
  return hash.digest("hex");
}

/** Remembers that what is in node_modules belongs to this lockfile and this Node. */
export function markInstalled() {
  writeFileSync(installStamp, installKey());
}

function installPackages() {
  const key = installKey();
  if (existsSync(installStamp) && readFileSync(installStamp, "utf8") === key) return;
  if (!has("python3") || !has("make") || !has("g++")) {
    aptInstall(["python3", "make", "g++"], "what compiles the embedded database");
  }
  say("installing packages and compiling the embedded database, about two minutes the first time");
  const outcome = run("npm", ["ci", "--include=dev", "--no-audit", "--no-fund", "--loglevel=error"]);
  if (!outcome.ok)
    throw new SetupError(`the packages could not be installed: ${outcome.why}. The lines above say why.`);
  markInstalled();
}

async function build() {
  const { buildIfStale } = await import("./build.mjs");
  await buildIfStale(say);
}

export async function setup(purpose) {
  checkNode();
  installPackages();
  await build();
  if (purpose !== "test") return;
  if (!findChromium()) aptInstall(["chromium"], "the browser for the tests");
  if (!findChromium()) throw new SetupError("Chromium was installed but not found. Set SPONDEE_CHROMIUM to its path.");
  if (!findPostgres()) aptInstall(["postgresql"], "the second database for the tests");
  if (!findPostgres())
    throw new SetupError("PostgreSQL was installed but not found. Set SPONDEE_POSTGRES_BIN to its folder of programs.");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const purpose = process.argv.includes("test") ? "test" : "start";
  setup(purpose).catch((error) => {
    say(error instanceof SetupError ? error.message : (error.stack ?? String(error)));
    process.exitCode = 1;
  });
}
