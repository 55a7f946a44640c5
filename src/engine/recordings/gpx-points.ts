// GPX as a stream: XML events in, track points out. Extension fields are known by their local names, whoever's they are.
import { SaxesParser, type SaxesTagPlain } from "saxes";
import type { Problem } from "../quantities/problem.ts";
import { parseIsoTime } from "./iso-time.ts";
import { LARGEST_NUMBER, MAX_PROBLEMS, type ReadLimits } from "./limits.ts";
import type { TrackPoint } from "./track-point.ts";

export interface GpxContents {
  readonly points: readonly TrackPoint[];
  readonly problems: readonly Problem[];
  readonly rootName: string | undefined;
  readonly version: string | undefined;
  readonly waypointCount: number;
  readonly routePointCount: number;
  /** Values that were there but could not be read, by what they are. */
  readonly unreadable: ReadonlyMap<string, number>;
  /** Times without a zone, taken as UTC. */
  readonly zonelessCount: number;
}

export interface GpxPointStream {
  write(text: string): void;
  /** Nothing more can come of it: stop feeding. */
  readonly stopped: boolean;
  readonly line: number;
  close(): GpxContents;
}

type Field = "elevationM" | "speedMps" | "cadence" | "heartRateBpm";
type Open = { -readonly [Key in keyof TrackPoint]: TrackPoint[Key] };

const FIELDS = new Map<string, Field | "time">([
  ["time", "time"],
  ["ele", "elevationM"],
  ["speed", "speedMps"],
  ["cad", "cadence"],
  ["cadence", "cadence"],
  ["runcadence", "cadence"],
  ["hr", "heartRateBpm"],
  ["heartrate", "heartRateBpm"],
]);

/** Longest text of a value that is looked at. */
const MAX_VALUE_LENGTH = 64;
const DECIMAL = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?$/;

/** Refuses document types (no entity is ever expanded), broken XML, and more than the limits allow. */
export function createGpxPointStream(fileName: string, limits: ReadLimits): GpxPointStream {
  const parser = new SaxesParser({ xmlns: false, position: true });
  const points: TrackPoint[] = [];
  const problems: Problem[] = [];
  const unreadable = new Map<string, number>();
  const path: string[] = [];
  let [segment, waypointCount, routePointCount, zonelessCount] = [-1, 0, 0, 0];
  let rootName: string | undefined;
  let version: string | undefined;
  let open: Open | undefined;
  let text: string | undefined;
  let [stopped, closing] = [false, false];

  const tell = (code: string, got: string, expected: string, remedy: string, fatal: boolean): void => {
    if (stopped) return;
    problems.push({ code, where: { file: fileName, line: parser.line }, got, expected, remedy });
    stopped = fatal || problems.length >= MAX_PROBLEMS;
  };
  const coordinate = (tag: SaxesTagPlain, name: "lat" | "lon", limit: number): number => {
    const value = tag.attributes[name]?.trim();
    const word = name === "lat" ? "latitude" : "longitude";
    const expected = `a ${word} from -${limit} to ${limit} degrees`;
    const remedy = `Correct or remove this point's "${name}".`;
    if (value === undefined || !DECIMAL.test(value)) {
      tell(`${word}-unreadable`, value === undefined ? "none" : `"${clip(value)}"`, expected, remedy, false);
      return NaN;
    }
    if (Math.abs(Number(value)) <= limit) return Number(value);
    tell(`${word}-out-of-range`, clip(value), expected, remedy, false);
    return NaN;
  };
  const openPoint = (tag: SaxesTagPlain): void => {
    if (points.length >= limits.maxPoints)
      tell("too-many-points", `more than ${limits.maxPoints} points`, `at most ${limits.maxPoints}`, SPLIT, true);
    open = {
      place: parser.line,
      segment: Math.max(0, segment),
      timeMs: NaN,
      latitudeDeg: coordinate(tag, "lat", 90),
      longitudeDeg: coordinate(tag, "lon", 180),
      elevationM: NaN,
      speedMps: NaN,
      distanceM: NaN,
      cadence: NaN,
      heartRateBpm: NaN,
    };
  };
  const takeValue = (name: string, value: string): void => {
    const field = FIELDS.get(name);
    if (open === undefined || field === undefined || value === "") return;
    if (field === "time") {
      const time = parseIsoTime(value);
      if (time === undefined) return count(unreadable, "time");
      if (!time.hasZone) zonelessCount += 1;
      open.timeMs = time.utcMs;
    } else if (DECIMAL.test(value) && Math.abs(Number(value)) < LARGEST_NUMBER) {
      open[field] = Number(value);
    } else {
      count(unreadable, name);
    }
  };

  parser.on("doctype", () =>
    tell(
      "xml-doctype",
      "a document type declaration",
      "plain GPX, which has none: entities are never expanded here",
      "Export the run again; do not use this file.",
      true,
    ),
  );
  parser.on("error", (error) => {
    const message = error.message.replace(/^[\d:]+\s*/, "");
    if (closing)
      tell("xml-truncated", `the end of the file (${clip(message)})`, "complete XML", "Copy or export it again.", true);
    else tell("xml-broken", clip(message), "well-formed XML", "Export it again; it was damaged or edited.", true);
  });
  parser.on("opentag", (tag) => {
    if (stopped) return;
    const name = localName(tag.name);
    path.push(name);
    if (path.length > limits.maxDepth)
      tell("xml-too-deep", `elements nested more than ${limits.maxDepth} deep`, "GPX, which is shallow", SPLIT, true);
    if (path.length === 1) {
      rootName = name;
      version = tag.attributes["version"];
      if (name !== "gpx") tell("not-gpx", `XML with the root "${clip(name)}"`, "GPX", "Choose a GPX file.", true);
    }
    if (name === "trkseg") segment += 1;
    else if (name === "trkpt") openPoint(tag);
    else if (name === "wpt") waypointCount += 1;
    else if (name === "rtept") routePointCount += 1;
    text = open !== undefined && FIELDS.has(name) ? "" : undefined;
  });
  parser.on("text", (piece) => {
    if (text !== undefined && text.length < MAX_VALUE_LENGTH) text += piece;
  });
  parser.on("closetag", () => {
    if (stopped) return;
    const name = path.pop();
    if (name === "trkpt" && open !== undefined) {
      points.push(open);
      open = undefined;
    } else if (name !== undefined && text !== undefined) {
      takeValue(name, text.trim());
    }
    text = undefined;
  });

  return {
    write: (piece) => {
      if (!stopped) parser.write(piece);
    },
    get stopped() {
      return stopped;
    },
    get line() {
      return parser.line;
    },
    close: () => {
      closing = true;
      if (!stopped) parser.close();
      return { points, problems, rootName, version, waypointCount, routePointCount, unreadable, zonelessCount };
    },
  };
}

const SPLIT = "Split the file, or export a single run.";

function localName(name: string): string {
  return name
    .slice(name.indexOf(":") + 1)
    .toLowerCase()
    .replaceAll(/[_-]/g, "");
}

function clip(text: string): string {
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

function count(counts: Map<string, number>, name: string): void {
  counts.set(name, (counts.get(name) ?? 0) + 1);
}
