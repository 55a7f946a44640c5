// The built pages: the desk at /, the phone page at /run. Everything with a hash in its name may be kept for good.
import { existsSync } from "node:fs";
import { join } from "node:path";
import staticFiles from "@fastify/static";
import type { FastifyInstance, FastifyRequest } from "fastify";
import type { ServerSettings } from "./deps.ts";

const pages = [
  { name: "pocket", prefix: "/run/" },
  { name: "desk", prefix: "/" },
] as const;

export async function servePages(app: FastifyInstance, settings: ServerSettings): Promise<void> {
  let decorated = false;
  for (const { name, prefix } of pages) {
    const root = folderOf(settings, name);
    if (root === undefined) continue;
    await app.register(staticFiles, {
      root,
      prefix,
      decorateReply: !decorated,
      cacheControl: false,
      // Packed when they were built; nothing of anybody's is in them.
      preCompressed: true,
      dotfiles: "ignore",
      setHeaders: (reply, path) => {
        // The name of a built asset holds a hash of what is in it.
        const forGood = /[/\\]assets[/\\]/.test(path);
        void reply.header("cache-control", forGood ? "public, max-age=31536000, immutable" : "no-cache");
      },
    });
    decorated = true;
    if (prefix === "/run/") app.get("/run", { schema: { hide: true } }, (_request, reply) => reply.redirect("/run/"));
  }
}

/** Addresses of screens have no file: the page itself sorts them out. The folder of that page, or undefined. */
export function pageFor(request: FastifyRequest, settings: ServerSettings): string | undefined {
  const path = request.url.split("?")[0] ?? "/";
  if (request.method !== "GET" || path.startsWith("/api/") || /\.[a-z0-9]+$/i.test(path)) return undefined;
  return folderOf(settings, path.startsWith("/run/") ? "pocket" : "desk");
}

function folderOf(settings: ServerSettings, name: string): string | undefined {
  if (settings.pagesDir === undefined) return undefined;
  const folder = join(settings.pagesDir, name);
  return existsSync(join(folder, "index.html")) ? folder : undefined;
}
