// Where the outside programs are. Looked up, never assumed.
import { existsSync, readdirSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");

export function findChromium() {
  const named = process.env.SPONDEE_CHROMIUM;
  const places = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];
  return [named, ...places].find((place) => place !== undefined && existsSync(place));
}

/** The folder that holds initdb and pg_ctl; the newest version when there are several. */
export function findPostgres() {
  const named = process.env.SPONDEE_POSTGRES_BIN;
  if (named !== undefined && existsSync(path.join(named, "initdb"))) return named;
  const base = "/usr/lib/postgresql";
  if (!existsSync(base)) return undefined;
  return readdirSync(base)
    .sort((a, b) => Number(b) - Number(a))
    .map((version) => path.join(base, version, "bin"))
    .find((folder) => existsSync(path.join(folder, "initdb")));
}
