// Builds the command line with its server (esbuild) and the two web pages (Vite) into dist/, only when the sources changed.
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";
import { root } from "./tools.mjs";

const gzipped = promisify(gzip);
const brotlied = promisify(brotliCompress);
const stampFile = path.join(root, "dist", ".built");
const pages = ["desk", "pocket"];

function listSources(folder) {
  return readdirSync(folder, { withFileTypes: true })
    .flatMap((entry) => {
      const full = path.join(folder, entry.name);
      if (entry.isDirectory()) return listSources(full);
      return /\.test\.tsx?$/.test(entry.name) ? [] : [full];
    })
    .sort((a, b) => (a < b ? -1 : 1));
}

/** One hash over everything that can change what is built. */
function sourceKey() {
  const hash = createHash("sha256");
  const config = ["package-lock.json", "scripts/build.mjs", ...pages.map((page) => `vite.config.${page}.ts`)];
  for (const file of [...config.map((name) => path.join(root, name)), ...listSources(path.join(root, "src"))]) {
    if (!existsSync(file)) continue;
    hash.update(path.relative(root, file));
    hash.update(readFileSync(file));
  }
  return hash.digest("hex");
}

async function buildPrograms() {
  const { build } = await import("esbuild");
  // Split pieces carry a hash in their names; old ones would pile up.
  rmSync(path.join(root, "dist/programs"), { recursive: true, force: true });
  const workers = listSources(path.join(root, "src", "server")).filter((file) => file.endsWith("-worker.ts"));
  await build({
    entryPoints: [path.join(root, "src/cli/main.ts"), ...workers],
    outdir: path.join(root, "dist/programs"),
    entryNames: "[name]",
    bundle: true,
    // Commands that need no server do not load it.
    splitting: true,
    packages: "external",
    platform: "node",
    target: "node20",
    format: "esm",
    outExtension: { ".js": ".mjs" },
    sourcemap: true,
    logLevel: "warning",
  });
}

/** Vite in a process of its own, so that the pages build side by side on two cores. */
function buildPage(page) {
  const config = `vite.config.${page}.ts`;
  if (!existsSync(path.join(root, config))) return Promise.resolve();
  return new Promise((resolve, reject) => {
    const vite = path.join(root, "node_modules/vite/bin/vite.js");
    const child = spawn(process.execPath, [vite, "build", "--config", config, "--logLevel", "warn"], {
      cwd: root,
      stdio: ["ignore", 2, 2],
    });
    child.on("error", reject);
    child.on("exit", (code) =>
      code === 0 ? resolve() : reject(new Error(`building the ${page} page failed (${code})`)),
    );
  });
}

/** What is sent again and again is packed once: a phone at the edge of the network waits for a third of the bytes. */
async function packPages() {
  const files = pages
    .map((page) => path.join(root, "dist", page))
    .filter((folder) => existsSync(folder))
    .flatMap(listSources)
    .filter((file) => /\.(js|css|html|svg|webmanifest)$/.test(file));
  for (const file of files) {
    const bytes = readFileSync(file);
    if (bytes.length < 1024) continue;
    writeFileSync(`${file}.gz`, await gzipped(bytes, { level: 9 }));
    const quality = { [constants.BROTLI_PARAM_QUALITY]: 10, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length };
    writeFileSync(`${file}.br`, await brotlied(bytes, { params: quality }));
  }
}

export async function buildIfStale(say = () => {}) {
  const key = sourceKey();
  if (existsSync(stampFile) && readFileSync(stampFile, "utf8") === key) return;
  say("building the program and its pages");
  await Promise.all([buildPrograms(), ...pages.map(buildPage)]);
  await packPages();
  mkdirSync(path.dirname(stampFile), { recursive: true });
  writeFileSync(stampFile, key);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await buildIfStale((text) => process.stderr.write(`${text}\n`));
}
