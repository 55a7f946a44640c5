// A PostgreSQL of our own for one test run: a fresh cluster in a temporary folder, on loopback only, gone afterwards.
import { spawnSync } from "node:child_process";
import { chmodSync, chownSync, mkdtempSync, rmSync } from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";

function freePort() {
  return new Promise((resolve, reject) => {
    const server = net.createServer();
    server.on("error", reject);
    server.listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });
}

/** PostgreSQL refuses to run as root, so root hands over to the account that Debian's package made. */
function asServerUser(command, args) {
  const isRoot = process.getuid?.() === 0;
  const result = isRoot
    ? spawnSync("runuser", ["-u", "postgres", "--", command, ...args], { encoding: "utf8", cwd: os.tmpdir() })
    : spawnSync(command, args, { encoding: "utf8", cwd: os.tmpdir() });
  if (result.status !== 0)
    throw new Error(`${path.basename(command)} failed: ${result.stderr || result.error?.message}`);
}

/** Starts it; returns its URL and how to stop it. */
export async function startTestDatabase(bin) {
  const folder = mkdtempSync(path.join(os.tmpdir(), "spondee-pg-"));
  if (process.getuid?.() === 0) {
    const id = (flag) => Number(spawnSync("id", [flag, "postgres"], { encoding: "utf8" }).stdout);
    chownSync(folder, id("-u"), id("-g"));
  }
  chmodSync(folder, 0o700);
  const cluster = path.join(folder, "cluster");
  const port = await freePort();
  asServerUser(path.join(bin, "initdb"), [
    "-D",
    cluster,
    "-A",
    "trust",
    "-U",
    "spondee",
    "-E",
    "UTF8",
    "--no-locale",
    "-N",
  ]);
  const settings = `-c listen_addresses=127.0.0.1 -c port=${port} -c unix_socket_directories=${folder} -c max_connections=60`;
  asServerUser(path.join(bin, "pg_ctl"), [
    "-D",
    cluster,
    "-w",
    "-l",
    path.join(folder, "log"),
    "-o",
    settings,
    "start",
  ]);
  return {
    url: `postgres://spondee@127.0.0.1:${port}/postgres`,
    stop() {
      asServerUser(path.join(bin, "pg_ctl"), ["-D", cluster, "-m", "immediate", "-w", "stop"]);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
