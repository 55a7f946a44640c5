// The real program in a process of its own, on a free loopback port, with a data folder that goes away afterwards.
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";

const root = path.resolve(import.meta.dirname, "../..");

export interface RunningServer {
  readonly origin: string;
  /** The address that signs the coach in once, as printed. */
  readonly signInUrl: string;
  readonly dataDir: string;
  /** Ends the process as a machine losing power would. */
  kill(): Promise<void>;
  /** Asks it to stop, waits. */
  stop(): Promise<void>;
}

export function makeDataDir(): string {
  return mkdtempSync(path.join(os.tmpdir(), "spondee-e2e-"));
}

export function removeDataDir(dataDir: string): void {
  rmSync(dataDir, { recursive: true, force: true });
}

/** Starts `spondee serve` and waits until it has printed where to open it. */
export async function startServer(
  dataDir: string,
  options: { demo?: boolean; port?: number } = {},
): Promise<RunningServer> {
  const words = [
    "serve",
    "--port",
    String(options.port ?? 0),
    "--data",
    dataDir,
    ...(options.demo === true ? ["--demo"] : []),
  ];
  const child = spawn(process.execPath, [path.join(root, "bin/spondee.mjs"), ...words], {
    cwd: root,
    env: { ...process.env, SPONDEE_SKIP_SETUP: "1" },
    stdio: ["ignore", "pipe", "pipe"],
  });
  const signInUrl = await firstAddress(child);
  return {
    origin: new URL(signInUrl).origin,
    signInUrl,
    dataDir,
    kill: () => end(child, "SIGKILL"),
    stop: () => end(child, "SIGTERM"),
  };
}

function firstAddress(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let heard = "";
    const timer = setTimeout(() => reject(new Error(`the server printed no address in 60 s:\n${heard}`)), 60_000);
    const listen = (chunk: Buffer) => {
      heard += chunk.toString();
      const found = /https?:\/\/127\.0\.0\.1:\d+\/\S*/.exec(heard);
      if (found === null || !heard.slice(found.index + found[0].length).includes("\n")) return;
      clearTimeout(timer);
      resolve(found[0]);
    };
    child.stdout?.on("data", listen);
    child.stderr?.on("data", listen);
    child.on("exit", (code) => reject(new Error(`the server ended with ${code}:\n${heard}`)));
  });
}

function end(child: ChildProcess, signal: NodeJS.Signals): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
  return new Promise((resolve) => {
    child.once("exit", () => resolve());
    child.kill(signal);
  });
}
