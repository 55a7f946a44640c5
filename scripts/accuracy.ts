// Writes the measured accuracy into docs/accuracy.md, each topic between its own markers.
// Usage: npx tsx scripts/accuracy.ts [FOLDER of open recordings]. Without a folder only the invented recordings are run,
// and what stood there about open recordings is kept.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { motionInvented, motionOpenData } from "./accuracy/motion.ts";
import { motionQuality } from "./accuracy/quality.ts";

const FILE = path.resolve(import.meta.dirname, "../docs/accuracy.md");

/** Sections by marker name. Each gives markdown without the markers, or undefined to keep what is there. */
const SECTIONS: readonly (readonly [string, (folder: string | undefined) => string | undefined])[] = [
  ["motion", () => motionInvented()],
  ["motion-quality", () => motionQuality()],
  ["motion-open-data", (folder) => (folder === undefined ? undefined : motionOpenData(folder))],
];

const folder = process.argv[2];
if (folder !== undefined && !existsSync(folder)) {
  process.stderr.write(`No folder ${folder}.\n`);
  process.exit(2);
}
let text = existsSync(FILE) ? readFileSync(FILE, "utf8") : "# How accurate it is\n";
for (const [name, make] of SECTIONS) {
  const body = make(folder === undefined ? undefined : path.resolve(folder));
  if (body === undefined) continue;
  const [start, end] = [`<!-- ${name}:start -->`, `<!-- ${name}:end -->`];
  const section = `${start}\n${body.trim()}\n${end}`;
  const from = text.indexOf(start);
  const to = text.indexOf(end);
  text =
    from >= 0 && to > from
      ? text.slice(0, from) + section + text.slice(to + end.length)
      : `${text.trimEnd()}\n\n${section}\n`;
}
writeFileSync(FILE, text);
process.stdout.write(`wrote ${path.relative(process.cwd(), FILE)}\n`);
