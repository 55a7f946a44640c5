// Runs the engine over a folder of open recordings and says, file by file, what came out.
// Usage: npm run check:open-data -- FOLDER. Nothing of the folder is kept.
import { existsSync } from "node:fs";
import path from "node:path";
import { checkFootfallData } from "./open-data/footfalls.ts";
import { checkForceData } from "./open-data/force.ts";
import { checkGpxData } from "./open-data/gpx.ts";
import { checkMotionData } from "./open-data/motion.ts";
import type { OpenDataRow } from "./open-data/row.ts";

const folder = process.argv[2];
if (folder === undefined || !existsSync(folder)) {
  process.stderr.write(`No folder of open recordings at ${folder ?? "(none named)"}. NOTHING WAS CHECKED.\n`);
  process.exit(2);
}

const checks: readonly [string, (folder: string) => Promise<readonly OpenDataRow[]>][] = [
  ["GPX tracks", checkGpxData],
  ["motion", checkMotionData],
  ["footfall sounds", checkFootfallData],
  ["forces", checkForceData],
];

const rows: OpenDataRow[] = [];
for (const [name, check] of checks) {
  const found = await check(path.resolve(folder));
  if (found.length === 0)
    rows.push({ dataSet: name, item: "-", measured: "no rows", expected: "at least one", pass: false });
  rows.push(...found);
}

const width = (pick: (row: OpenDataRow) => string) => Math.max(...rows.map((row) => pick(row).length));
const [dataSetWidth, itemWidth, measuredWidth] = [
  width((r) => r.dataSet),
  width((r) => r.item),
  Math.min(
    70,
    width((r) => r.measured),
  ),
];
for (const row of rows) {
  process.stdout.write(
    `${row.pass ? "ok  " : "FAIL"}  ${row.dataSet.padEnd(dataSetWidth)}  ${row.item.padEnd(itemWidth)}  ${row.measured.padEnd(measuredWidth)}  ${row.expected}\n`,
  );
}
const failed = rows.filter((row) => !row.pass).length;
process.stdout.write(`open data: ${rows.length - failed} of ${rows.length} as expected\n`);
process.exitCode = failed === 0 ? 0 : 1;
