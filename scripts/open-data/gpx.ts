// Real GPX runs and odd GPX files, read and analysed: each file's numbers beside what an independent look at it says.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import geodesic from "geographiclib-geodesic";
import { analyseFile } from "../../src/engine/analysis/analyse-file.ts";
import type { Analysis, Summary } from "../../src/engine/analysis/analysis.ts";
import type { OpenDataRow } from "./row.ts";

/** What each odd file must come to: a problem code, or "read". */
const EDGE_OUTCOMES: Readonly<Record<string, string>> = {
  "ez_invalid_schema.gpx": "read",
  "gp_cerknicko-jezero-no-creator.gpx": "read",
  "gp_cerknicko-without-times.gpx": "track-no-time",
  "gp_custom_schema_locations.gpx": "gpx-no-track",
  "gp_gpx-with-node-with-comments.gpx": "track-single-point",
  "gp_gpx1.0_with_all_fields.gpx": "track-single-point",
  "gp_gpx1.1_with_all_fields.gpx": "track-single-point",
  "gp_gpx1.1_with_extensions.gpx": "gpx-no-track",
  "gp_gpx1.1_with_extensions_without_namespaces.gpx": "gpx-no-track",
  "gp_track-with-empty-segment.gpx": "read",
  "gp_track-with-extremes.gpx": "track-no-time",
  "gp_track-with-less-sec-time.gpx": "read",
  "gp_track-with-small-floats.gpx": "track-no-time",
  "gp_track_with_dilution_errors.gpx": "track-no-time",
  "gp_track_with_speed.gpx": "read",
  "gp_unicode.gpx": "gpx-no-track",
  "gp_unicode2.gpx": "gpx-no-track",
  "gp_unicode_with_bom.gpx": "gpx-no-track",
  "gp_unicode_with_bom_noencoding.gpx": "gpx-no-track",
  "gp_vendor_extension.gpx": "gpx-no-track",
  "tg_bad.gpx": "latitude-unreadable",
  "tg_empty_ele.gpx": "track-single-point",
  "tg_empty_trk.gpx": "gpx-no-track",
  "tg_missing_hr.gpx": "read",
  "tg_multitrackgpx.gpx": "read",
  "tg_style.gpx": "track-no-time",
  "tg_unique_trkpt.gpx": "track-single-point",
  "tg_zero_elevation.gpx": "read",
};

/** Checks `gpx-runs` and `gpx-edge` under the folder; a missing one gives no rows. */
export async function checkGpxData(folder: string): Promise<readonly OpenDataRow[]> {
  return [...checkRuns(join(folder, "gpx-runs")), ...checkEdges(join(folder, "gpx-edge"))];
}

function gpxFiles(folder: string): string[] {
  return existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(".gpx")) : [];
}

function checkRuns(folder: string): OpenDataRow[] {
  return gpxFiles(folder).flatMap((name) => {
    const bytes = readFileSync(join(folder, name));
    const look = lookAt(bytes.toString("utf8"));
    const result = analyseFile(bytes, { fileName: name });
    const row = (measured: string, expected: string, pass: boolean): OpenDataRow => ({
      dataSet: "gpx-runs",
      item: name,
      measured,
      expected,
      pass,
    });
    if (!result.ok) return [row(result.problems.map((p) => p.code).join(), "to be read", false)];
    const analysis = result.value;
    const rows = [
      row(
        describe(analysis),
        "a runner's figures: 1 to 6 m/s, 140 to 200 spm, steps of 0.4 to 1.8 m",
        isPlausible(analysis),
      ),
    ];

    const offShare = analysis.distanceM === null ? NaN : analysis.distanceM / look.geodesicM - 1;
    // A file that mostly stands collects its receiver's wandering: ours must be well below it.
    const standing = look.cadences.filter((value) => value === 0).length * 2 > look.cadences.length;
    const [low, high] = standing && look.cadences.length > 0 ? [-0.6, -0.1] : [-0.04, 0.005];
    rows.push(
      row(
        `${metres(analysis.distanceM)} (${(100 * offShare).toFixed(2)} %)`,
        `geodesics from point to point ${metres(look.geodesicM)}, less noise and standing: ${100 * low} % to ${100 * high} %`,
        offShare > low && offShare < high,
      ),
    );
    if (look.cadences.length > 0) rows.push(...cadenceRows(analysis, look, row));
    else
      rows.push(
        row(
          analysis.stepRateSpm === null ? "no step rate" : "a step rate",
          "no cadence in the file, so no step rate",
          analysis.stepRateSpm === null,
        ),
      );
    return rows;
  });
}

function cadenceRows(
  analysis: Analysis,
  look: Look,
  row: (measured: string, expected: string, pass: boolean) => OpenDataRow,
): OpenDataRow[] {
  const perLeg = look.cadences.filter((value) => value > 0 && value < 120);
  const doubled = look.cadences.filter((value) => value >= 120);
  const rows = [
    row(`${analysis.feetCounted} foot`, "cadence per leg, told apart from the numbers", analysis.feetCounted === "one"),
  ];
  // Running only: the file's own per-leg values of at least 70, doubled.
  const running = perLeg.filter((value) => value >= 70).map((value) => 2 * value);
  const expected = running.reduce((sum, value) => sum + value, 0) / running.length;
  if (running.length > 100 && analysis.stepRateSpm !== null)
    rows.push(
      row(
        `mean step rate ${analysis.stepRateSpm.mean.toFixed(1)} spm`,
        `twice the mean of the file's running values: ${expected.toFixed(1)} spm, within 1.5`,
        Math.abs(analysis.stepRateSpm.mean - expected) < 1.5,
      ),
    );
  const mixed = analysis.warnings.find((warning) => warning.code === "feet-mixed");
  rows.push(
    row(
      mixed === undefined ? "no points already doubled" : mixed.message,
      `${doubled.length} points of 120 or more`,
      doubled.length === 0 ? mixed === undefined : (mixed?.message.startsWith(`${doubled.length} point`) ?? false),
    ),
  );
  const rates = analysis.windows.flatMap((window) => window.stepRateSpm ?? []);
  rows.push(
    row(
      `windows from ${Math.min(...rates).toFixed(0)} to ${Math.max(...rates).toFixed(0)} spm`,
      "no window halved or doubled: 60 to 220 spm",
      rates.every((rate) => rate >= 60 && rate <= 220),
    ),
  );
  return rows;
}

function checkEdges(folder: string): OpenDataRow[] {
  return gpxFiles(folder).map((name) => {
    const result = analyseFile(readFileSync(join(folder, name)), { fileName: name });
    const expected = EDGE_OUTCOMES[name] ?? "an outcome of its own";
    const outcome = result.ok ? "read" : (result.problems[0]?.code ?? "no reason");
    const found = result.ok
      ? `read: ${describe(result.value)}; ${result.value.warnings.map((w) => w.code).join(", ") || "no warnings"}`
      : `${outcome}: ${result.problems[0]?.got}`;
    const pass = outcome === expected || !(name in EDGE_OUTCOMES);
    return { dataSet: "gpx-edge", item: name, measured: found, expected, pass };
  });
}

interface Look {
  readonly geodesicM: number;
  readonly cadences: readonly number[];
}

/** The file by plain pattern matching, without our reader, and its length by a geodesic library. */
function lookAt(text: string): Look {
  const places = [...text.matchAll(/<trkpt\s([^>]*)>/g)].map((match) => {
    const attributes = match[1] ?? "";
    const number = (key: string): number => Number(new RegExp(`${key}="([^"]*)"`).exec(attributes)?.[1]);
    return { lat: number("lat"), lon: number("lon") };
  });
  let geodesicM = 0;
  for (let i = 1; i < places.length; i += 1) {
    const [a, b] = [places[i - 1]!, places[i]!];
    geodesicM += geodesic.Geodesic.WGS84.Inverse(a.lat, a.lon, b.lat, b.lon).s12 ?? NaN;
  }
  const cadences = [...text.matchAll(/:cad>\s*([\d.]+)\s*<\//g)].map((match) => Number(match[1]));
  return { geodesicM, cadences };
}

function isPlausible(analysis: Analysis): boolean {
  const within = (value: Summary | null, low: number, high: number): boolean =>
    value === null || (value.mean >= low && value.mean <= high);
  return (
    analysis.speedMps !== null &&
    within(analysis.speedMps, 1, 6) &&
    within(analysis.stepRateSpm, 140, 200) &&
    within(analysis.stepLengthM, 0.4, 1.8)
  );
}

function describe(analysis: Analysis): string {
  const summary = (name: string, value: Summary | null, digits: number): string =>
    value === null ? `no ${name}` : `${name} ${value.mean.toFixed(digits)} ± ${value.standardError.toFixed(digits)}`;
  return [
    `${analysis.durationS} s, moving ${analysis.movingS} s`,
    metres(analysis.distanceM),
    summary("spm", analysis.stepRateSpm, 1),
    summary("m/s", analysis.speedMps, 2),
    summary("m a step", analysis.stepLengthM, 2),
  ].join(", ");
}

function metres(distanceM: number | null): string {
  return distanceM === null ? "no distance" : `${distanceM.toFixed(0)} m`;
}
