import { defineConfig } from "vite";

// The coach's web app. Everything ships from the same origin: a strict Content-Security-Policy forbids inline scripts and styles,
// so nothing is inlined as a data URL either.
export default defineConfig({
  root: "src/desk",
  base: "/",
  publicDir: "public",
  build: {
    outDir: "../../dist/desk",
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: ["es2022", "safari16"],
    rolldownOptions: {
      onLog: (level, log, print) => {
        // "use client" only means something to server rendering, which we do not do.
        if (log.code !== "MODULE_LEVEL_DIRECTIVE") print(level, log);
      },
    },
  },
  server: {
    host: "127.0.0.1",
    port: 5178,
    proxy: { "/api": process.env["SPONDEE_SERVER"] ?? "http://127.0.0.1:7411" },
  },
});
