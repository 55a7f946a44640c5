// Spondee's own phone recording: JSON lines, written while the phone runs, so that a cut leaves everything before it.
import { fail, type Problem, type ProblemPlace, type Result, succeed, type Warning } from "../quantities/problem.ts";
import { MAX_MOTION_ROWS } from "./fast-table.ts";
import { MAX_PROBLEMS, type ReadOptions } from "./limits.ts";
import { PHONE_FORMAT, PHONE_VERSION } from "./phone-recording-lines.ts";
import { type CueBlock, type MotionRecording, type Surface } from "./recording.ts";

/** A batch of a minute at 200 Hz is about 60 kB; a longer line is not one of ours. */
const MAX_LINE_LENGTH = 2_000_000;

interface Gathered {
  readonly timeMs: number[];
  readonly x: number[];
  readonly y: number[];
  readonly z: number[];
  readonly positions: (readonly [number, number, number, number, number])[];
  readonly marks: { timeS: number; label: string }[];
  readonly cues: CueBlock[];
  ended: boolean;
  unknownKinds: number;
}

/**
 * Reads a phone recording, format version 1 (docs/formats.md). A last line that was cut off, or a missing end line, is a
 * warning: the recording up to there is good. Any other line that is not as described is a problem with its number.
 */
export function readPhoneRecording(text: string, options: ReadOptions): Result<MotionRecording> {
  const { fileName } = options;
  const maxSamples = Math.min(options.limits?.maxPoints ?? MAX_MOTION_ROWS, MAX_MOTION_ROWS);
  const header = readHeader(text, fileName);
  if (!header.ok) return header;
  const gathered: Gathered = {
    timeMs: [],
    x: [],
    y: [],
    z: [],
    positions: [],
    marks: [],
    cues: [],
    ended: false,
    unknownKinds: 0,
  };
  const problems: Problem[] = [];
  const warnings: Warning[] = [];
  let at = header.value.end;
  let line = header.value.line;
  while (at < text.length && problems.length < MAX_PROBLEMS) {
    if (options.limits?.expired?.() === true)
      return fail(
        problem(
          "reading-took-too-long",
          { file: fileName, line },
          "a file that takes long",
          "one that can be read in time",
          "Send a single run.",
        ),
      );
    const newline = text.indexOf("\n", at);
    const end = newline < 0 ? text.length : newline;
    const content = text.slice(at, Math.min(end, at + MAX_LINE_LENGTH + 1)).trim();
    const isLast = newline < 0 || text.slice(newline).trim() === "";
    at = end + 1;
    line += 1;
    if (content === "") continue;
    const found = content.length > MAX_LINE_LENGTH ? "a line that is too long" : takeLine(content, gathered);
    if (found !== undefined) {
      if (isLast && found === NOT_JSON)
        warnings.push({ code: "phone-last-line-cut", message: "The last line is cut off and was left out." });
      else
        problems.push(
          problem(
            "phone-line",
            { file: fileName, line },
            found,
            "a line of the format",
            "Send the file as the phone made it.",
          ),
        );
    }
    if (gathered.timeMs.length > maxSamples)
      return fail(
        problem(
          "too-many-points",
          { file: fileName, line },
          `more than ${maxSamples} samples`,
          `at most ${maxSamples}`,
          "Send a single run.",
        ),
      );
  }
  if (problems.length > 0) return fail(...problems);
  if (gathered.timeMs.length < 2)
    return fail(
      problem(
        "motion-no-rows",
        { file: fileName },
        `${gathered.timeMs.length} samples`,
        "at least two samples",
        "Record again: allow the motion sensor when the phone asks.",
      ),
    );
  if (!gathered.ended)
    warnings.push({
      code: "phone-no-end",
      message: "The recording has no end line: it was cut off. What came before is used.",
    });
  if (gathered.unknownKinds > 0)
    warnings.push({
      code: "phone-unknown-lines",
      message: `${gathered.unknownKinds} lines of a kind that is not known here were left out.`,
    });
  return succeed(assemble(header.value, gathered), warnings);
}

const NOT_JSON = "text that is not JSON";

interface Header {
  readonly startedAtMs: number;
  readonly surface: Surface;
  readonly gravity: "included" | "removed";
  /** Character after the header line, and the header's line number. */
  readonly end: number;
  readonly line: number;
}

function readHeader(text: string, fileName: string): Result<Header> {
  const start = text.length - text.replace(/^[\uFEFF\s]+/, "").length;
  const newline = text.indexOf("\n", start);
  const end = newline < 0 ? text.length : newline;
  const line = text.slice(0, start).split("\n").length;
  const where = { file: fileName, line };
  const parsed = parseObject(text.slice(start, Math.min(end, start + 10_000)));
  if (parsed?.["spondee"] !== PHONE_FORMAT)
    return fail(
      problem(
        "phone-not-ours",
        where,
        "another first line",
        `{"spondee":"${PHONE_FORMAT}","version":1,…}`,
        "Send the file that the phone page made.",
      ),
    );
  const { version, startedAtMs, surface, gravity } = parsed;
  if (version !== PHONE_VERSION)
    return fail(
      problem(
        "phone-version",
        where,
        `version ${JSON.stringify(version)}`,
        `version ${PHONE_VERSION}`,
        "Update this program, or record again with this version's phone page.",
      ),
    );
  if (!isNumber(startedAtMs) || (gravity !== "included" && gravity !== "removed"))
    return fail(
      problem(
        "phone-header",
        where,
        "a header without startedAtMs or gravity",
        "both",
        "Send the file as the phone made it.",
      ),
    );
  const known = surface === "outdoor" || surface === "treadmill" ? surface : "unknown";
  return succeed({ startedAtMs, surface: known, gravity, end: end + 1, line });
}

/** Takes in one line; says what is wrong with it, if something is. */
function takeLine(content: string, into: Gathered): string | undefined {
  const parsed = parseObject(content);
  if (parsed === undefined) return NOT_JSON;
  switch (parsed["kind"]) {
    case "motion": {
      const lists = [parsed["timeMs"], parsed["x"], parsed["y"], parsed["z"]].map(numbersOf);
      const [time, x, y, z] = lists;
      if (!time || !x || !y || !z || lists.some((list) => list!.length !== time.length))
        return "a motion line without four lists of equal length";
      if (time.some(Number.isNaN)) return "a motion line with a missing time";
      for (let i = 0; i < time.length; i += 1) {
        into.timeMs.push(time[i]!);
        into.x.push(x[i]!);
        into.y.push(y[i]!);
        into.z.push(z[i]!);
      }
      return undefined;
    }
    case "position": {
      const { timeMs, latitudeDeg, longitudeDeg, elevationM, accuracyM } = parsed;
      if (!isNumber(timeMs) || !isNumber(latitudeDeg) || !isNumber(longitudeDeg))
        return "a position without time or place";
      if (Math.abs(latitudeDeg) > 90 || Math.abs(longitudeDeg) > 180) return "a position that is not on Earth";
      const optional = (value: unknown): number => (isNumber(value) ? value : NaN);
      into.positions.push([timeMs, latitudeDeg, longitudeDeg, optional(elevationM), optional(accuracyM)]);
      return undefined;
    }
    case "mark": {
      const { timeMs, label } = parsed;
      if (!isNumber(timeMs) || typeof label !== "string") return "a mark without time or label";
      into.marks.push({ timeS: timeMs, label: label.slice(0, 200) });
      return undefined;
    }
    case "cue": {
      const { startMs, endMs, cue, targetSpm } = parsed;
      if (!isNumber(startMs) || !isNumber(endMs) || endMs < startMs || (cue !== "on" && cue !== "off"))
        return "a cue block without start, end or cue";
      into.cues.push({ startS: startMs, endS: endMs, cue, ...(isNumber(targetSpm) ? { targetSpm } : {}) });
      return undefined;
    }
    case "end":
      into.ended = true;
      return undefined;
    default:
      into.unknownKinds += 1;
      return undefined;
  }
}

function assemble(header: Header, gathered: Gathered): MotionRecording {
  const firstMs = gathered.timeMs[0]!;
  const toS = (ms: number): number => (ms - firstMs) / 1000;
  const column = (index: number): Float64Array => Float64Array.from(gathered.positions, (position) => position[index]!);
  return {
    kind: "motion",
    startedAtMs: header.startedAtMs + firstMs,
    surface: header.surface,
    timeS: Float64Array.from(gathered.timeMs, toS),
    accelXMps2: Float64Array.from(gathered.x),
    accelYMps2: Float64Array.from(gathered.y),
    accelZMps2: Float64Array.from(gathered.z),
    gravity: header.gravity,
    ...(gathered.positions.length === 0
      ? {}
      : {
          positions: {
            timeS: column(0).map(toS),
            latitudeDeg: column(1),
            longitudeDeg: column(2),
            elevationM: column(3),
            accuracyM: column(4),
          },
        }),
    cueBlocks: gathered.cues.map((block) => ({ ...block, startS: toS(block.startS), endS: toS(block.endS) })),
    ...(gathered.marks.length === 0
      ? {}
      : { marks: gathered.marks.map((mark) => ({ ...mark, timeS: toS(mark.timeS) })) }),
  };
}

function problem(code: string, where: ProblemPlace, got: string, expected: string, remedy: string): Problem {
  return { code, where, got, expected, remedy };
}

function parseObject(text: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === "object" && value !== null && !Array.isArray(value)
      ? (value as Record<string, unknown>)
      : undefined;
  } catch {
    return undefined;
  }
}

function isNumber(value: unknown): value is number {
  return typeof value === "number" && Number.isFinite(value);
}

/** A list of numbers; null stands for a missing one. */
function numbersOf(value: unknown): number[] | undefined {
  if (!Array.isArray(value)) return undefined;
  const list = value.map((entry: unknown) => (isNumber(entry) ? entry : entry === null ? NaN : undefined));
  return list.every((entry) => entry !== undefined) ? list : undefined;
}
