// Each reader with what must hold of whatever it answers. A target throws when that does not hold.
import { rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Problem, Result } from "../../src/engine/quantities/problem.ts";
import { readCsvTrack } from "../../src/engine/recordings/csv-track.ts";
import { readGpx } from "../../src/engine/recordings/gpx.ts";
import { readMotionCsv } from "../../src/engine/recordings/motion-csv.ts";
import { readPhoneRecording } from "../../src/engine/recordings/phone-recording.ts";
import { readRecording } from "../../src/engine/recordings/read-recording.ts";
import type { Recording } from "../../src/engine/recordings/recording.ts";
import { decodeText } from "../../src/engine/recordings/text-decoding.ts";
import { readWav } from "../../src/engine/recordings/wav.ts";
import { analyseFile } from "../../src/server/analysis/analyse-file.ts";
import { previewRoster } from "../../src/server/use-cases/roster-csv.ts";
import { BackupError, backupFault, restoreSqlite } from "../../src/store/backup.ts";
import { gpxSeeds, motionCsvSeeds, phoneSeeds, rosterSeeds, trackCsvSeeds, wavSeeds } from "./seeds.ts";

export interface FuzzTarget {
  readonly seeds: readonly Uint8Array[];
  /** What came of it, in a word; "read" when the file was accepted. Throws when an answer is not as promised. */
  run(bytes: Uint8Array): string;
}

export interface FuzzPlace {
  /** The checkout. */
  readonly root: string;
  /** For readers of files; emptied by the caller. */
  readonly folder: string;
  /** A sound backup, for the reader of backups. */
  readonly backup: Uint8Array;
}

export const targetNames = [
  "gpx",
  "csv-track",
  "motion-csv",
  "phone-recording",
  "wav",
  "roster-csv",
  "restore",
  "analysis",
] as const;
export type TargetName = (typeof targetNames)[number] | TrapName;

/** Targets that misbehave, to see that this is noticed. */
export const trapNames = ["trap-throws", "trap-hangs", "trap-eats-memory", "trap-hoards-bytes", "trap-lies"] as const;
type TrapName = (typeof trapNames)[number];

export function makeTarget(name: TargetName, place: FuzzPlace): FuzzTarget {
  const { root } = place;
  const options = { fileName: "mutant" };
  const asText = (read: (text: string) => Result<Recording>) => (bytes: Uint8Array) => {
    const text = decodeText(bytes, options.fileName);
    return text.ok ? read(text.value) : text;
  };
  switch (name) {
    case "gpx":
      return recordings(gpxSeeds(root), (bytes) => readGpx(bytes, options));
    case "csv-track":
      return recordings(
        trackCsvSeeds(root),
        asText((text) => readCsvTrack(text, options)),
      );
    case "motion-csv":
      return recordings(
        motionCsvSeeds(),
        asText((text) => readMotionCsv(text, options)),
      );
    case "phone-recording":
      return recordings(
        phoneSeeds(),
        asText((text) => readPhoneRecording(text, options)),
      );
    case "wav":
      return recordings(wavSeeds(root), (bytes) => readWav(bytes, options));
    case "roster-csv":
      return { seeds: rosterSeeds(), run: runRoster };
    case "restore":
      return { seeds: [place.backup], run: (bytes) => runRestore(bytes, place.folder) };
    case "analysis":
      return {
        seeds: [...gpxSeeds(root), ...trackCsvSeeds(root), ...motionCsvSeeds(), ...phoneSeeds(), ...wavSeeds(root)],
        run: runAnalysis,
      };
    case "trap-throws":
      return trap(() => (undefined as unknown as string).length.toString());
    case "trap-hangs":
      return trap(() => {
        for (;;);
      });
    case "trap-eats-memory":
      return trap(() => {
        const kept: object[] = [];
        for (;;) kept.push(Array.from({ length: 1000 }, () => ({})));
      });
    case "trap-hoards-bytes":
      return trap(() => String(hoard.push(new Float64Array(2 ** 24).fill(1))));
    case "trap-lies":
      return trap(() => checked({ ok: false, problems: [] }));
  }
}

const hoard: Float64Array[] = [];

/** Behaves until a file holds a certain byte. */
function trap(run: () => string): FuzzTarget {
  return { seeds: [new Uint8Array(100).fill(65)], run: (bytes) => (bytes.includes(0x80) ? run() : "read") };
}

/** The reader itself, and the door that all files come through. */
function recordings(seeds: readonly Uint8Array[], read: (bytes: Uint8Array) => Result<Recording>): FuzzTarget {
  return {
    seeds,
    run(bytes) {
      checked(readRecording(bytes, { fileName: "mutant" }), checkRecording);
      return checked(read(bytes), checkRecording);
    },
  };
}

function checked<T>(result: Result<T>, check: (value: T) => void = () => undefined): string {
  if (result.ok) {
    for (const { code, message } of result.warnings) {
      demand(code !== "" && message !== "", "a warning without words");
      demand(message.length <= 800, `${code}: a warning of ${message.length} letters`);
    }
    check(result.value);
    return ["read", ...result.warnings.map((warning) => warning.code).sort()].join(" ");
  }
  demand(result.problems.length > 0, "refused without a reason");
  demand(result.problems.length <= 40, `${result.problems.length} problems of one file`);
  result.problems.forEach(checkProblem);
  return result.problems[0]!.code;
}

function checkProblem(problem: Problem): void {
  demand(/^[a-z][a-z0-9-]+$/.test(problem.code), `a code like "${problem.code}"`);
  for (const part of ["got", "expected", "remedy"] as const) {
    demand(problem[part].trim() !== "", `${problem.code}: nothing said of "${part}"`);
    demand(problem[part].length <= 400, `${problem.code}: ${problem[part].length} letters of "${part}"`);
  }
}

/** Columns of one length, times that never go back, numbers inside their ranges or missing. */
function checkRecording(recording: Recording): void {
  for (const block of recording.cueBlocks) demand(block.endS >= block.startS, "a cue block that ends before it begins");
  if (recording.startedAtMs !== undefined) demand(Number.isFinite(recording.startedAtMs), "a start that is no time");
  if (recording.kind === "sound") {
    demand(recording.samples.length > 0 && recording.sampleRateHz > 0, "a sound of nothing");
    demand(
      recording.samples.every((sample) => Math.abs(sample) <= 1),
      "a sample beyond full scale",
    );
    return;
  }
  const { timeS } = recording;
  demand(timeS.length > 0, "no samples");
  for (const [name, column] of Object.entries(recording))
    if (column instanceof Float64Array) {
      demand(column.length === timeS.length, `${name}: ${column.length} of ${timeS.length}`);
      demand(!column.includes(Infinity) && !column.includes(-Infinity), `${name}: infinite`);
    }
  if (recording.kind === "motion") {
    // Samples that go back in time are told in a warning and left out by the analysis.
    demand(!timeS.some(Number.isNaN), "a sample without time");
    if (recording.positions !== undefined) places(recording.positions);
    return;
  }
  ascending(timeS);
  places(recording);
  recording.segmentStartIndex.forEach((start, index, all) =>
    demand(start >= (index === 0 ? 0 : all[index - 1]! + 1) && start < timeS.length, "segments out of order"),
  );
  demand(
    recording.stepRateSpm.every((rate) => !(rate < 0)),
    "a negative step rate",
  );
}

function ascending(timeS: Float64Array): void {
  for (let i = 0; i < timeS.length; i += 1)
    demand(timeS[i]! >= (i === 0 ? -Infinity : timeS[i - 1]!), `time goes back at ${i}`);
}

function places({
  latitudeDeg,
  longitudeDeg,
}: {
  readonly latitudeDeg: Float64Array;
  readonly longitudeDeg: Float64Array;
}): void {
  demand(!latitudeDeg.some((value) => Math.abs(value) > 90), "a latitude beyond the pole");
  demand(!longitudeDeg.some((value) => Math.abs(value) > 180), "a longitude beyond 180°");
}

function runRoster(bytes: Uint8Array): string {
  const preview = previewRoster(new TextDecoder().decode(bytes), [{ id: "x", name: "Ann Lee" }]);
  preview.problems.forEach(checkProblem);
  for (const row of preview.rows) {
    row.problems.forEach(checkProblem);
    demand((row.runner === null) === row.problems.length > 0, "a row neither read nor refused");
    if (row.runner === null) continue;
    const { name, heightM, legLengthM, massKg } = row.runner;
    demand(name.length > 0 && name.length <= 120, `a name of ${name.length} letters`);
    for (const [value, most] of [
      [heightM, 2.5],
      [legLengthM, 1.5],
      [massKg, 400],
    ] as const)
      if (value !== undefined) demand(value > 0 && value <= most, `a measure of ${value}`);
  }
  demand(preview.rows.length <= 500, `${preview.rows.length} rows`);
  demand(preview.importable <= preview.rows.length, "more to import than rows");
  return preview.problems[0]?.code ?? "read";
}

function runRestore(bytes: Uint8Array, folder: string): string {
  const file = join(folder, "mutant.sqlite");
  const target = join(folder, "target.sqlite");
  for (const suffix of ["", "-wal", "-shm", "-journal"]) rmSync(`${target}${suffix}`, { force: true });
  writeFileSync(file, bytes);
  const fault = backupFault(file);
  try {
    restoreSqlite(file, target, { replace: false, stamp: "1" });
  } catch (error) {
    if (!(error instanceof BackupError)) throw error;
    demand(fault !== null && error.message === fault, `first "${fault}", then "${error.message}"`);
    demand(fault!.length > 10 && fault!.length < 600, "a refusal without words");
    return fault!.includes("damaged") ? "damaged" : fault!.includes("not a Spondee backup") ? "not a backup" : "other";
  }
  demand(fault === null, `restored in spite of "${fault}"`);
  demand(backupFault(target) === null, "restored, and then found damaged");
  return "read";
}

function runAnalysis(bytes: Uint8Array): string {
  const labels = { fileName: "mutant", surface: "unknown" as const, trimStartS: 0, trimEndS: null, cueBlocks: [] };
  return checked(analyseFile(bytes, labels), ({ windows, summary }) => {
    for (const window of windows) {
      demand(window.endS > window.startS, "a window without length");
      demand(window.quality >= 0 && window.quality <= 1, `a quality of ${window.quality}`);
    }
    // What is stored is JSON: NaN would silently become null.
    for (const [name, value] of Object.entries(summary))
      demand(typeof value !== "number" || Number.isFinite(value), `${name} is no number`);
  });
}

function demand(holds: boolean, what: string): asserts holds {
  if (!holds) throw new Error(`not as promised: ${what}`);
}
