// Builds and runs tests/serve-child.ts, so that a test can kill a real server process again and again.
import { type ChildProcess, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { join, resolve } from "node:path";
import { createInterface } from "node:readline";
import { build } from "esbuild";

const root = resolve(import.meta.dirname, "..");

/** Bundles the child and the analysis thread beside it; inside the checkout, so that packages are found. */
export async function buildChild(): Promise<{ readonly file: string; remove(): void }> {
  const base = join(root, ".tsbuild", "test-programs");
  mkdirSync(base, { recursive: true });
  const outdir = mkdtempSync(join(base, "child-"));
  await build({
    entryPoints: [join(root, "tests/serve-child.ts"), join(root, "src/server/analysis/analysis-worker.ts")],
    outdir,
    entryNames: "[name]",
    bundle: true,
    packages: "external",
    platform: "node",
    target: "node20",
    format: "esm",
    outExtension: { ".js": ".mjs" },
    logLevel: "error",
  });
  return { file: join(outdir, "serve-child.mjs"), remove: () => rmSync(outdir, { recursive: true, force: true }) };
}

export interface ChildServer {
  readonly address: string;
  readonly setupCode: string | null;
  readonly process: ChildProcess;
  /** Resolves when the process is gone. */
  readonly gone: Promise<{ readonly code: number | null; readonly signal: string | null }>;
  /** The last of what it said on stderr, requests left out. */
  errors(): string;
}

export async function startChild(
  file: string,
  place: { readonly dataDir: string; readonly databaseUrl?: string },
): Promise<ChildServer> {
  const child = spawn(process.execPath, [file], {
    env: { ...process.env, SPONDEE_CHILD_DATA: place.dataDir, SPONDEE_CHILD_URL: place.databaseUrl ?? "" },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let errors = "";
  child.stderr.on("data", (chunk: Buffer) => {
    for (const line of chunk.toString("utf8").split("\n"))
      if (line !== "" && !line.includes('"level":"info"')) errors = `${errors}${line}\n`.slice(-4000);
  });
  const gone = new Promise<{ code: number | null; signal: string | null }>((done) =>
    child.on("exit", (code, signal) => done({ code, signal })),
  );
  const said = new Promise<{ address: string; setupCode: string | null }>((done) =>
    createInterface({ input: child.stdout }).once("line", (line) => done(JSON.parse(line) as never)),
  );
  const first = await Promise.race([said, gone.then(() => null)]);
  if (first === null) throw new Error(`the child did not start: ${errors.slice(0, 2000)}`);
  return { ...first, process: child, gone, errors: () => errors };
}
