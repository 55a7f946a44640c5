import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { defineConfig, type Plugin } from "vite";

// The runner's phone page, under /run/. The same JSX as the desk on a tenth of the weight.
const BASE = "/run/";
const publicFolder = "src/pocket/public";

/** Tells the service worker which files make up this build, so that one visit is enough to work without a network. */
function listForServiceWorker(): Plugin {
  return {
    name: "list-for-service-worker",
    enforce: "post",
    generateBundle(_options, bundle) {
      const worker = bundle["sw.js"];
      if (worker?.type !== "chunk") throw new Error("vite.config.pocket.ts: the build has no sw.js");
      const statics = readdirSync(publicFolder).map((name) => ({
        name,
        content: readFileSync(`${publicFolder}/${name}`),
      }));
      const built = Object.values(bundle)
        .filter((file) => file !== worker && !file.fileName.endsWith(".map"))
        // Only the alphabet that these pages are written in; the phone's own letters stand in for the others.
        .filter((file) => !file.fileName.endsWith(".woff2") || /-latin-wght/.test(file.fileName))
        .map((file) => ({ name: file.fileName, content: file.type === "chunk" ? file.code : file.source }));
      const files = [...statics, ...built].sort((a, b) => (a.name < b.name ? -1 : 1));
      const hash = createHash("sha256");
      for (const { name, content } of files) hash.update(name).update(content);
      const names = files.map(({ name }) => (name === "index.html" ? BASE : `${BASE}${name}`));
      worker.code = worker.code
        .replace(/["'`]__FILES__["'`]/, JSON.stringify(JSON.stringify(names)))
        .replace(/__BUILD__/, hash.digest("hex").slice(0, 16));
    },
  };
}

export default defineConfig({
  root: "src/pocket",
  base: BASE,
  publicDir: "public",
  plugins: [listForServiceWorker()],
  resolve: {
    alias: [
      { find: /^react\/jsx-runtime$/, replacement: "preact/jsx-runtime" },
      { find: /^react\/jsx-dev-runtime$/, replacement: "preact/jsx-runtime" },
      { find: /^react-dom\/client$/, replacement: "preact/compat/client" },
      { find: /^react(-dom)?$/, replacement: "preact/compat" },
    ],
  },
  worker: { format: "es" },
  build: {
    outDir: "../../dist/pocket",
    emptyOutDir: true,
    // A strict content policy allows no data addresses.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: ["es2022", "safari16"],
    rolldownOptions: {
      input: { index: "src/pocket/index.html", sw: "src/pocket/sw/sw.ts" },
      output: { entryFileNames: ({ name }) => (name === "sw" ? "sw.js" : "assets/[name]-[hash].js") },
    },
  },
});
