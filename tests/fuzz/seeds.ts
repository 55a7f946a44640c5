// Valid files to begin from: those that the readers' tests hold to, and invented ones of every format.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import {
  phoneCueLine,
  phoneEndLine,
  phoneHeaderLine,
  phoneMarkLine,
  phoneMotionLine,
  phonePositionLine,
} from "../../src/engine/recordings/phone-recording-lines.ts";
import type { MotionRecording } from "../../src/engine/recordings/recording.ts";
import { makeSyntheticMotion } from "../../src/engine/synthetic/synthetic-motion.ts";
import { inventTrack, writeGpx, writeTrackCsv } from "../../src/engine/synthetic/tracks.ts";

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const fromFolder = (folder: string, pattern: RegExp): Uint8Array[] =>
  readdirSync(folder)
    .filter((name) => pattern.test(name))
    .sort()
    .map((name) => new Uint8Array(readFileSync(join(folder, name))));

const track = (seed: number) =>
  inventTrack({
    seed,
    startedAtMs: Date.UTC(2026, 1, 3, 7),
    legs: [
      { durationS: 20, speedMps: 2.8, stepRateSpm: 164 },
      { durationS: 5, speedMps: 0, stepRateSpm: 0 },
      { durationS: 20, speedMps: 3.1, stepRateSpm: 168, slope: 0.02 },
    ],
    noise: { whiteM: 1, stepRateSpm: 1 },
  }).recording;

export function gpxSeeds(root: string): Uint8Array[] {
  return [...fromFolder(join(root, "tests/files/valid"), /\.gpx$/), encode(writeGpx(track(1), { cadence: "one" }))];
}

export function trackCsvSeeds(root: string): Uint8Array[] {
  return [...fromFolder(join(root, "tests/files/valid"), /\.csv$/), encode(writeTrackCsv(track(2)))];
}

const motion = (seed: number, durationS: number): MotionRecording =>
  makeSyntheticMotion({
    seed,
    placement: "waist",
    sampleRateHz: 50,
    segments: [{ state: "running", durationS, stepRateSpm: 166 }],
  }).recording;

export function motionCsvSeeds(): Uint8Array[] {
  const { timeS, accelXMps2: x, accelYMps2: y, accelZMps2: z } = motion(3, 3);
  const table = (header: string, row: (i: number) => readonly (number | string)[], by: string, newline = "\n") =>
    encode([header, ...Array.from(timeS, (_, i) => row(i).join(by))].join(newline) + newline);
  const G = 9.80665;
  return [
    table("time_s,x_m_s2,y_m_s2,z_m_s2", (i) => [timeS[i]!, x[i]!, y[i]!, z[i]!].map((v) => v.toFixed(4)), ","),
    table(
      "timestamp (ms);accel x (g);accel y (g);accel z (g)",
      (i) => [1000 * timeS[i]!, x[i]! / G, y[i]! / G, z[i]! / G].map((v) => v.toFixed(4).replace(".", ",")),
      ";",
      "\r\n",
    ),
    table(
      '"time","ax","ay","az"',
      (i) => [new Date(1.78e12 + 1000 * timeS[i]!).toISOString(), x[i]!, y[i]!, z[i]!].map((v) => `"${v}"`),
      ",",
    ),
  ];
}

export function phoneSeeds(): Uint8Array[] {
  const { timeS, accelXMps2, accelYMps2, accelZMps2 } = motion(4, 4);
  const half = timeS.length >> 1;
  const batch = (from: number, to: number): string =>
    phoneMotionLine({
      timeMs: Float64Array.from(timeS.subarray(from, to), (t) => 250 + 1000 * t),
      xMps2: accelXMps2.subarray(from, to),
      yMps2: accelYMps2.subarray(from, to),
      zMps2: accelZMps2.subarray(from, to),
    });
  const whole =
    phoneHeaderLine({ startedAtMs: 1_780_000_000_000, surface: "outdoor", gravity: "included" }) +
    batch(0, half) +
    phonePositionLine({ timeMs: 1250, latitudeDeg: 10.5, longitudeDeg: -20.25, elevationM: 12, accuracyM: 4.5 }) +
    phonePositionLine({ timeMs: 2250, latitudeDeg: 10.50003, longitudeDeg: -20.25, elevationM: null, accuracyM: 5 }) +
    phoneMarkLine(2250, "shoe") +
    batch(half, timeS.length) +
    phoneCueLine({ startS: 0.5, endS: 3, cue: "on", targetSpm: 170 });
  return [encode(whole + phoneEndLine(4300)), encode(whole)];
}

export function wavSeeds(root: string): Uint8Array[] {
  const { files } = JSON.parse(readFileSync(join(root, "oracles/wav/values.json"), "utf8")) as {
    files: readonly { base64: string }[];
  };
  return files.map((file) => new Uint8Array(Buffer.from(file.base64, "base64")));
}

export function rosterSeeds(): Uint8Array[] {
  return [
    'name,height (cm),history,notes\nAnn Lee,171,achilles,"says ""hi"", often"\nBo Ek,182.5,none,\n',
    "\u{FEFF}Runner;Height;Leg length (cm);Weight (kg);Remote\r\nÅsa Öberg;1,71;82;61,5;yes\r\nJo Fry;1,80;;;no\r\n",
    "Name\tGoal\tRace date\nCy Dow\t172\t2026-05-01\n",
  ].map(encode);
}
