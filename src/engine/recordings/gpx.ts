// GPX 1.1 (and what is commonly found in its place) to a TrackRecording.
import { fail, succeed, type Problem, type Result, type Warning } from "../quantities/problem.ts";
import { assembleTrack } from "./assemble-track.ts";
import { createGpxPointStream, type GpxContents } from "./gpx-points.ts";
import { DEFAULT_LIMITS, type ReadLimits, type ReadOptions } from "./limits.ts";
import type { TrackRecording } from "./recording.ts";
import { counted } from "./wording.ts";
import { createDecoder, encodingProblem, sniffEncoding } from "./text-decoding.ts";

const CHUNK_BYTES = 64 * 1024;

/**
 * Reads GPX 1.1; 1.0 and files without a version are read the same way and told. Track points only: a file with
 * nothing but routes or waypoints is a problem, as is one without times. Cadence, heart rate and speed are taken from
 * extensions by local name, in any namespace or none. Bytes are decoded strictly in 64 kB pieces (a byte-order mark, else
 * the declared encoding, else UTF-8). Never throws; linear in the bytes.
 */
export function readGpx(bytes: Uint8Array, options: ReadOptions): Result<TrackRecording> {
  const { fileName } = options;
  const limits: ReadLimits = { ...DEFAULT_LIMITS, ...options.limits };
  if (bytes.length > limits.maxBytes)
    return fail({
      code: "file-too-large",
      where: { file: fileName },
      got: `${bytes.length} bytes`,
      expected: `at most ${limits.maxBytes} bytes`,
      remedy: "Export a single run.",
    });
  const parsed = parse(bytes, fileName, limits);
  if (!parsed.ok) return parsed;
  const contents = parsed.value;
  if (contents.problems.length > 0) return fail(...contents.problems);
  if (contents.points.length === 0) return fail(noTrackProblem(contents, fileName));
  const track = assembleTrack(contents.points, { kind: "gpx", fileName, hasClock: true });
  if (!track.ok) return track;
  return succeed(track.value, [...describeContents(contents), ...track.warnings]);
}

function parse(bytes: Uint8Array, fileName: string, limits: ReadLimits): Result<GpxContents> {
  const sniffed = sniffEncoding(bytes);
  const declared = declaredEncoding(bytes, sniffed.label, sniffed.skip);
  if (declared !== undefined && isUtf16(declared) !== isUtf16(sniffed.label))
    return fail(encodingProblem(declared, fileName, 1));
  // A byte-order mark outranks the declaration; both-UTF-16 differs in byte order only.
  const label = sniffed.skip > 0 || isUtf16(sniffed.label) ? sniffed.label : (declared ?? sniffed.label);
  const decoder = createDecoder(label, fileName);
  if (!decoder.ok) return decoder;
  const stream = createGpxPointStream(fileName, limits);
  for (let start = sniffed.skip; start < bytes.length && !stream.stopped; start += CHUNK_BYTES) {
    if (limits.expired?.() === true) return fail(tooSlowProblem(fileName, stream.line));
    const end = Math.min(bytes.length, start + CHUNK_BYTES);
    try {
      stream.write(decoder.value.decode(bytes.subarray(start, end), { stream: end < bytes.length }));
    } catch {
      return fail(encodingProblem(label, fileName));
    }
  }
  return succeed(stream.close());
}

/** The encoding that the XML declaration names, read as ASCII from the first bytes. */
function declaredEncoding(bytes: Uint8Array, sniffed: string, skip: number): string | undefined {
  const head = bytes.subarray(skip, skip + 400);
  const letters = Array.from(head.filter((byte) => !isUtf16(sniffed) || byte !== 0));
  const declaration = /^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([A-Za-z][\w.:-]{0,39})["']/.exec(
    String.fromCharCode(...letters),
  );
  return declaration?.[1]?.toLowerCase();
}

function isUtf16(label: string): boolean {
  return label.startsWith("utf-16") || label === "utf16";
}

function tooSlowProblem(fileName: string, line: number): Problem {
  return {
    code: "reading-took-too-long",
    where: { file: fileName, line },
    got: "a file that takes longer to read than allowed",
    expected: "a single run",
    remedy: "Split the file, or export a single run.",
  };
}

function noTrackProblem(contents: GpxContents, fileName: string): Problem {
  const { waypointCount, routePointCount } = contents;
  const other = [
    waypointCount > 0 ? counted(waypointCount, "waypoint") : "",
    routePointCount > 0 ? `a route of ${counted(routePointCount, "point")}` : "",
  ].filter((part) => part !== "");
  return {
    code: "gpx-no-track",
    where: { file: fileName },
    got: other.length > 0 ? other.join(" and ") : "no track points",
    expected: "a recorded track",
    remedy: "Export the recorded run itself, not a planned route or places.",
  };
}

function describeContents(contents: GpxContents): Warning[] {
  const warnings: Warning[] = [];
  if (contents.version !== "1.1")
    warnings.push({
      code: "gpx-version",
      message: `The file says ${contents.version === undefined ? "no GPX version" : `GPX ${contents.version.slice(0, 20)}`}; it was read as 1.1.`,
    });
  if (contents.zonelessCount > 0)
    warnings.push({
      code: "time-without-zone",
      message: `${counted(contents.zonelessCount, "time")} without a time zone taken as UTC.`,
    });
  for (const [name, count] of contents.unreadable)
    warnings.push({
      code: "value-unreadable",
      message: `${counted(count, "value")} of "${name}" could not be read and counted as missing.`,
    });
  return warnings;
}
