// Calibration of the matched-speed comparison on simulated histories, and the power table that the advice reads.
// Usage: npx tsx scripts/calibration.ts [--per-cell 120] [--seed 1]   coverage and findings, into docs/accuracy.md
//        npx tsx scripts/calibration.ts --power [--histories 150]     power table, into src/engine/change/power-table.ts and docs/accuracy.md
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import {
  calibrate,
  calibrateOne,
  DAY_TO_DAY_SDS_PERCENT,
  RUN_COUNTS,
  saysChange,
  type CalibrationReport,
  type Share,
} from "../src/engine/change/calibrate.ts";
import { createRandom } from "../src/engine/quantities/random.ts";

const { values } = parseArgs({
  options: {
    power: { type: "boolean", default: false },
    "per-cell": { type: "string", default: "120" },
    histories: { type: "string", default: "150" },
    seed: { type: "string", default: "20261125" },
  },
});
const seed = Number(values.seed);
const ACCURACY = "docs/accuracy.md";

if (values.power) power(Number(values.histories));
else coverage(Number(values["per-cell"]));

function coverage(perCell: number): void {
  const report = calibrate(perCell, seed);
  writeSection("proof", coverageText(report, perCell));
  process.stdout.write(coverageText(report, perCell));
  process.exitCode = barsOf(report).every((bar) => bar.pass) ? 0 : 1;
}

interface Bar {
  readonly what: string;
  readonly found: string;
  readonly bar: string;
  readonly pass: boolean;
}

function barsOf(report: CalibrationReport): Bar[] {
  const cells = report.coverageByCell.filter((cell) => cell.runCount >= 2).map((cell) => cell.share.share);
  const worst = Math.min(...cells);
  return [
    {
      what: "95 % intervals hold the truth",
      found: percent(report.coverage),
      bar: "93 to 97 %",
      pass: report.coverage.share >= 0.93 && report.coverage.share <= 0.97,
    },
    {
      what: "the poorest cell with two or more runs a side",
      found: `${(100 * worst).toFixed(1)} %`,
      bar: "at least 90 %",
      pass: worst >= 0.9,
    },
    {
      what: "nothing changed, yet a change was said (two or more runs a side)",
      found: percent(report.falseChanged),
      bar: "at most 4 %",
      pass: report.falseChanged.share <= 0.04,
    },
    {
      what: "+5 % found, four runs a side, day-to-day spread 1 %",
      found: percent(report.fivePercentFound),
      bar: "at least 90 %",
      pass: report.fivePercentFound.share >= 0.9,
    },
    {
      what: "only 8 to 15 % faster, yet a change was said",
      found: percent(report.fasterCalledChange),
      bar: "at most 4 %",
      pass: report.fasterCalledChange.share <= 0.04,
    },
    {
      what: "only faster and named so, four runs a side, spread 1 % or less",
      found: percent(report.fasterNamed),
      bar: "at least 90 %",
      pass: report.fasterNamed.share >= 0.9,
    },
  ];
}

function percent(share: Share): string {
  return `${(100 * share.share).toFixed(1)} % ± ${(100 * share.monteCarloError).toFixed(1)} (${share.count})`;
}

function coverageText(report: CalibrationReport, perCell: number): string {
  const rows = barsOf(report).map(
    (bar) => `| ${bar.what} | ${bar.found} | ${bar.bar} | ${bar.pass ? "met" : "NOT MET"} |`,
  );
  const cells = RUN_COUNTS.map((n) => {
    const shares = report.coverageByCell
      .filter((cell) => cell.runCount === n)
      .map((cell) => (100 * cell.share.share).toFixed(1));
    return `| ${n} | ${shares.join(" | ")} |`;
  });
  return [
    "## The proof: matched-speed change",
    "",
    `${report.historyCount} simulated runner histories with known truth (\`npx tsx scripts/calibration.ts --per-cell ${perCell} --seed ${seed}\`): 1 to 6 runs a side, 10 to 40 minutes, day-to-day spread 0.5 to 2.5 %, residual correlation 0.80 to 0.95 from one ten-second window to the next (a quarter with longer memory), residual spread 0.5 to 1 %, position error 2 to 4 m, receiver scale error 0.5 to 1.5 % from run to run, exponent 0.10 to 0.22, hills, one in seven on a treadmill. ± is the Monte-Carlo standard error; the number of histories stands in brackets.`,
    "",
    "| what | found | bar | |",
    "| --- | --- | --- | --- |",
    ...rows,
    "",
    `Share of 95 % intervals that hold the truth, percent, by runs a side and day-to-day spread (about ${perCell} histories each, Monte-Carlo error about ${(100 * Math.sqrt((0.95 * 0.05) / perCell)).toFixed(0)} points):`,
    "",
    `| runs a side | ${DAY_TO_DAY_SDS_PERCENT.map((sd) => `${sd} %`).join(" | ")} |`,
    `| --- | ${DAY_TO_DAY_SDS_PERCENT.map(() => "---").join(" | ")} |`,
    ...cells,
    "",
    "The same by what the cells do not fix, two or more runs a side:",
    "",
    "| histories with | intervals that hold the truth |",
    "| --- | --- |",
    ...report.coverageByFactor.map(({ factor, share }) => `| ${factor} | ${percent(share)} |`),
    "",
    "With few runs and steady days the intervals are wider than they need be, because they allow for days that differ more than these did; with one run a side the finding is always that there is not enough evidence.",
    "",
  ].join("\n");
}

function power(histories: number): void {
  const effectsPercent = [2, 3, 4, 5, 7.5, 10];
  const wantedShare = 0.8;
  const random = createRandom(seed);
  const rows = DAY_TO_DAY_SDS_PERCENT.map((dayToDaySdPercent) => {
    const runsPerSide: (number | null)[] = effectsPercent.map(() => null);
    for (const n of [2, 3, 4, 5, 6, 8, 10, 12]) {
      if (runsPerSide.every((runs) => runs !== null)) break;
      const found = Array.from({ length: histories }, () =>
        calibrateOne(
          { beforeRunCount: n, afterRunCount: n, dayToDaySdPercent, changePercent: 0, speedChangePercent: [-5, 5] },
          random.below(2 ** 31),
        ),
      );
      effectsPercent.forEach((effect, column) => {
        const share = found.filter((history) => saysChange(history.findingIfChanged(effect))).length / histories;
        if (share >= wantedShare) runsPerSide[column] ??= n;
      });
      process.stderr.write(`day-to-day ${dayToDaySdPercent} %, ${n} runs a side: ${runsPerSide.join(" ")}\n`);
    }
    return { dayToDaySdPercent, runsPerSide };
  });
  const source = `// Made by \`npx tsx scripts/calibration.ts --power\`; do not edit by hand.
// Fewest runs on each side that find a true change in at least ${100 * wantedShare} % of ${histories} simulated histories each; null: more than 12.

export interface PowerRow {
  readonly dayToDaySdPercent: number;
  /** One number for each effect of the table. */
  readonly runsPerSide: readonly (number | null)[];
}

export const POWER_EFFECTS_PERCENT: readonly number[] = ${JSON.stringify(effectsPercent).replaceAll(",", ", ")};

export const POWER_ROWS: readonly PowerRow[] = [
${rows.map((row) => `  { dayToDaySdPercent: ${row.dayToDaySdPercent}, runsPerSide: ${JSON.stringify(row.runsPerSide).replaceAll(",", ", ")} },`).join("\n")}
];
`;
  writeFileSync("src/engine/change/power-table.ts", source);
  const text = [
    "## Runs needed",
    "",
    `Fewest runs on each side that find a true change at the same speed (finding \`changed\` or \`both\`) in at least ${100 * wantedShare} % of ${histories} simulated histories each; 10 to 40 minutes a run, the same surroundings as above (\`npx tsx scripts/calibration.ts --power --histories ${histories} --seed ${seed}\`). 2, 3, 4, 5, 6, 8, 10 and 12 runs were tried; "–" means that 12 are not enough. The planner reads this table.`,
    "",
    `| day-to-day spread | ${effectsPercent.map((effect) => `+${effect} %`).join(" | ")} |`,
    `| --- | ${effectsPercent.map(() => "---").join(" | ")} |`,
    ...rows.map((row) => `| ${row.dayToDaySdPercent} % | ${row.runsPerSide.map((runs) => runs ?? "–").join(" | ")} |`),
    "",
  ].join("\n");
  writeSection("power", text);
  process.stdout.write(text);
}

/** Replaces the text between the markers of a section, or adds the section at the end. */
function writeSection(name: string, text: string): void {
  const [start, end] = [`<!-- ${name}:start -->`, `<!-- ${name}:end -->`];
  const old = existsSync(ACCURACY) ? readFileSync(ACCURACY, "utf8") : "# How accurate it is\n";
  const block = `${start}\n\n${text}\n${end}`;
  const [from, to] = [old.indexOf(start), old.indexOf(end)];
  writeFileSync(
    ACCURACY,
    from >= 0 && to > from ? old.slice(0, from) + block + old.slice(to + end.length) : `${old.trimEnd()}\n\n${block}\n`,
  );
}
