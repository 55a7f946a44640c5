// Any file that a coach or a phone may bring, known by what is in it, not by its name.
import { fail, type Problem, type Result } from "../quantities/problem.ts";
import { findDelimiter } from "./csv-cells.ts";
import { parseColumn } from "./csv-header.ts";
import { headerLineOf } from "./csv-rows.ts";
import { readCsvTrack } from "./csv-track.ts";
import { readGpx } from "./gpx.ts";
import { DEFAULT_LIMITS, type ReadLimits, type ReadOptions } from "./limits.ts";
import { readMotionCsv } from "./motion-csv.ts";
import { parseMotionHeader } from "./motion-header.ts";
import { readPhoneRecording } from "./phone-recording.ts";
import type { Recording } from "./recording.ts";
import { decodeText, sniffEncoding } from "./text-decoding.ts";
import { readWav } from "./wav.ts";

/** Sound is large: half an hour at 44.1 kHz, two channels of 16 bit, is 318 MB. */
const MAX_SOUND_BYTES = 400 * 1024 * 1024;

/**
 * Reads GPX, a CSV track, motion (CSV or a phone recording in JSON) or WAV. The contents decide; the name is only for
 * messages. Never throws and never guesses: what is none of these, is empty, binary, compressed or too large comes back
 * as a problem with a stable code.
 */
export function readRecording(bytes: Uint8Array, options: ReadOptions): Result<Recording> {
  const { fileName } = options;
  const limits: ReadLimits = { ...DEFAULT_LIMITS, ...options.limits };
  const problem = (code: string, got: string, expected: string, remedy: string): Result<Recording> =>
    fail<Recording>({ code, where: { file: fileName }, got, expected, remedy } satisfies Problem);

  if (bytes.length === 0) return problem("file-empty", "an empty file", "a recording", "Export or copy it again.");
  const sound = startsWith(bytes, "RIFF") || startsWith(bytes, "RF64");
  const maxBytes = sound ? Math.max(limits.maxBytes, MAX_SOUND_BYTES) : limits.maxBytes;
  if (bytes.length > maxBytes)
    return problem("file-too-large", `${bytes.length} bytes`, `at most ${maxBytes} bytes`, "Export a single run.");
  if (sound) return readWav(bytes, { fileName });
  if (isCompressed(bytes))
    return problem("file-compressed", "a compressed file", FORMATS, "Unpack it first; nothing is unpacked here.");
  if (isBinary(bytes)) return problem("file-binary", "bytes that are not text", FORMATS, "Export it in one of these.");

  const start = firstText(bytes);
  if (start === "") return problem("file-empty", "nothing but blank space", "a recording", "Export or copy it again.");
  if (start.startsWith("<")) return readGpx(bytes, options);
  const text = decodeText(bytes, fileName);
  if (!text.ok) return text;
  if (start.startsWith("{")) return readPhoneRecording(text.value, options);
  const kind = tableKind(start);
  if (kind === "track") return readCsvTrack(text.value, options);
  if (kind === "motion") return readMotionCsv(text.value, options);
  return problem(
    "file-unknown",
    `text that begins with "${start.slice(0, 30).replaceAll(/\s+/g, " ").trim()}"`,
    FORMATS,
    "Export it again.",
  );
}

const FORMATS = "GPX, CSV with a header row, a phone recording in JSON, or WAV";

/** Enough to see the kind of a file. */
const HEAD_BYTES = 4096;

function startsWith(bytes: Uint8Array, letters: string): boolean {
  return Array.from(letters).every((letter, index) => bytes[index] === letter.charCodeAt(0));
}

/** gzip, zip, xz, bzip2, 7z: by their first bytes. */
function isCompressed(bytes: Uint8Array): boolean {
  const magics = ["\x1f\x8b", "PK\x03\x04", "PK\x05\x06", "\xfd7zXZ", "BZh", "7z\xbc\xaf"];
  return magics.some((magic) => startsWith(bytes, magic));
}

/** Control characters do not occur in text, except as half of a UTF-16 letter. */
function isBinary(bytes: Uint8Array): boolean {
  if (sniffEncoding(bytes).label.startsWith("utf-16")) return false;
  return bytes.subarray(0, HEAD_BYTES).some((byte) => byte < 9 || (byte > 13 && byte < 32));
}

/** The first letters of a text, byte-order mark and blank space left out; a letter cut in half is no matter here. */
function firstText(bytes: Uint8Array): string {
  const { label, skip } = sniffEncoding(bytes);
  const head = bytes.subarray(skip, skip + HEAD_BYTES);
  const letters = label.startsWith("utf-16") ? head.filter((byte) => byte !== 0) : head;
  return String.fromCharCode(...letters).trimStart();
}

/** Motion names axes of acceleration; any other table with a known column is read as a track, which says what is missing. */
function tableKind(start: string): "track" | "motion" | "unknown" {
  const header = headerLineOf(start);
  const cells = header.split(findDelimiter(header)).map((cell) => cell.replaceAll('"', "").trim());
  if (parseMotionHeader(cells).kind !== "no-axes") return "motion";
  return cells.some((cell, index) => parseColumn(cell, index) !== undefined) ? "track" : "unknown";
}
