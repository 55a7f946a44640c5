import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { readRecording } from "./read-recording.ts";
import type { TrackRecording } from "./recording.ts";

const folder = new URL("../../../tests/files/", import.meta.url);
const names = (kind: string): string[] =>
  readdirSync(new URL(`${kind}/`, folder))
    .filter((name) => /\.(gpx|csv)$/.test(name) || name === "claims-500-mb.wav")
    .filter((name) => readdirSync(new URL(`${kind}/`, folder)).includes(`${name}.json`))
    .sort();
const bytesOf = (kind: string, name: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`${kind}/${name}`, folder)));
const metaOf = (kind: string, name: string) =>
  JSON.parse(readFileSync(new URL(`${kind}/${name}.json`, folder), "utf8"));
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

describe("files that must be read", () => {
  test.each(names("valid"))("%s", (name) => {
    const meta = metaOf("valid", name);
    const result = readRecording(bytesOf("valid", name), { fileName: name });
    if (!result.ok) throw new Error(JSON.stringify(result.problems));
    if (meta.kind !== "gpx" && meta.kind !== "csv-track") {
      expect(result.value.kind).toBe(meta.kind);
      return;
    }
    const track = result.value as TrackRecording;
    const expectedCodes: string[] = meta.warnings;
    expect(result.warnings.map((w) => w.code).sort()).toEqual([...expectedCodes].sort());
    expect(track).toMatchObject({ kind: meta.kind, feetCounted: meta.feetCounted });
    expect(track.timeS.length).toBe(meta.sampleCount);
    for (const [key, column] of Object.entries(track))
      if (column instanceof Float64Array) expect(column.length, key).toBe(meta.sampleCount);
    expect(track.segmentStartIndex.length).toBe(meta.segmentCount ?? 1);
    const rates = [...track.stepRateSpm].filter((rate) => !Number.isNaN(rate));
    if (meta.stepRateSpm === undefined) expect(rates.filter((r) => r > 0 && meta.cueBlocks === undefined)).toEqual([]);
    else expect([Math.min(...rates), Math.max(...rates)]).toEqual(meta.stepRateSpm);
    if (meta.startedAtMs !== undefined) expect(track.startedAtMs).toBe(meta.startedAtMs);
    if (meta.surface !== undefined) expect(track.surface).toBe(meta.surface);
    if (meta.cueBlocks !== undefined) expect(track.cueBlocks).toEqual(meta.cueBlocks);
    if (meta.recordedSpeedMps !== undefined)
      expectClose(track.recordedSpeedMps[0]!, meta.recordedSpeedMps, { rtol: 1e-12, because: "unit arithmetic" });
    for (let i = 1; i < track.timeS.length; i += 1) expect(track.timeS[i]!).toBeGreaterThanOrEqual(track.timeS[i - 1]!);
  });
});

describe("files that must be refused, with the reason and the place", () => {
  test.each(names("invalid"))("%s", (name) => {
    const meta = metaOf("invalid", name);
    const result = readRecording(bytesOf("invalid", name), { fileName: name });
    if (result.ok) throw new Error("was read");
    expect(result.problems[0]).toMatchObject({ code: meta.problem, where: { file: name, ...meta.where } });
    for (const problem of result.problems)
      for (const part of [problem.got, problem.expected, problem.remedy]) expect(part).not.toBe("");
  });
});

describe("the contents decide, not the name", () => {
  const header = JSON.stringify({ format: "phone", version: 1 });
  test.each([
    ["motion under a .gpx name", "time_s,ax_mps2,ay_mps2,az_mps2\n0,0,0,9.8\n0.02,0,0,9.9\n0.04,0,0,9.7\n", "motion"],
    ["a track under a .json name", "time_s,speed_mps\n0,3\n1,3\n", "csv-track"],
    ["GPX under a .csv name", new TextDecoder().decode(bytesOf("valid", "both-feet.gpx")), "gpx"],
  ])("%s", (_, text, kind) => {
    const result = readRecording(utf8(text), { fileName: "run.gpx" });
    expect(result.ok ? result.value.kind : result.problems).toBe(kind);
  });
  test("JSON is a phone recording or nothing", () => {
    const result = readRecording(utf8(header), { fileName: "run.csv" });
    expect(result.ok ? [] : result.problems.map((p) => p.code)[0]).toMatch(/^phone-/);
  });
});

describe("limits", () => {
  const point = (second: number): string =>
    `<trkpt lat="1" lon="${second / 1e5}"><time>2026-03-01T08:00:${String(second).padStart(2, "0")}Z</time></trkpt>`;
  const gpx = utf8(`<gpx version="1.1"><trk><trkseg>${[0, 1, 2, 3].map(point).join("")}</trkseg></trk></gpx>`);
  const codes = (limits: Parameters<typeof readRecording>[1]["limits"], bytes = gpx): string[] => {
    const result = readRecording(bytes, { fileName: "run", ...(limits ? { limits } : {}) });
    return result.ok ? [] : result.problems.map((p) => p.code);
  };
  test("bytes, points, depth and patience", () => {
    expect(codes({})).toEqual([]);
    expect(codes({ maxBytes: 100 })).toEqual(["file-too-large"]);
    expect(codes({ maxPoints: 3 })).toEqual(["too-many-points"]);
    expect(codes({ maxDepth: 3 })).toEqual(["xml-too-deep"]);
    expect(codes({ expired: () => true })).toEqual(["reading-took-too-long"]);
    const csv = utf8("time_s,speed_mps\n0,3\n1,3\n2,3\n3,3\n");
    expect(codes({}, csv)).toEqual([]);
    expect(codes({ maxPoints: 3 }, csv)).toEqual(["too-many-points"]);
    expect(codes({ expired: () => true }, csv)).toEqual(["reading-took-too-long"]);
  });

  test("numbers too great to count with are unreadable in GPX and a problem in a table", () => {
    const huge = new TextDecoder().decode(gpx).replace("</time>", `</time><speed>${"9".repeat(400)}</speed>`);
    const track = readRecording(utf8(huge), { fileName: "run.gpx" });
    expect(track.ok && track.warnings.map((warning) => warning.code)).toContain("value-unreadable");
    expect(track.ok && (track.value as TrackRecording).recordedSpeedMps[0]).toBeNaN();
    expect(codes({}, utf8("time_s,speed_mps\n0,3\n1,1e308\n2,3\n"))).toEqual(["csv-cell-not-a-number"]);
  });

  test("at most twenty problems are told of one file", () => {
    const many = `<gpx version="1.1"><trk><trkseg>${'<trkpt lat="x" lon="y"/>'.repeat(500)}</trkseg></trk></gpx>`;
    expect(codes({}, utf8(many)).length).toBe(20);
    expect(codes({}, utf8(`time_s,speed_mps\n${"a,b\n".repeat(500)}`)).length).toBeLessThanOrEqual(21);
  });
});

describe("damaged files", () => {
  const sources = ["valid", "invalid"].flatMap((kind) =>
    names(kind).map((name) => [name, bytesOf(kind, name)] as const),
  );
  test("property: whatever is done to its bytes, a file is read or refused, and never throws", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...sources),
        fc.array(fc.tuple(fc.nat(), fc.integer({ min: 0, max: 255 }), fc.integer({ min: 0, max: 3 })), {
          minLength: 1,
          maxLength: 12,
        }),
        ([name, source], edits) => {
          let bytes = Uint8Array.from(source);
          for (const [where, value, how] of edits) {
            const at = bytes.length === 0 ? 0 : where % bytes.length;
            if (how === 0) bytes[at] = value;
            else if (how === 1) bytes = Uint8Array.from([...bytes.subarray(0, at), value, ...bytes.subarray(at)]);
            else if (how === 2) bytes = Uint8Array.from([...bytes.subarray(0, at), ...bytes.subarray(at + value)]);
            else bytes = Uint8Array.from([...bytes, ...bytes.subarray(at, at + value)]);
          }
          const result = readRecording(bytes, { fileName: name });
          if (!result.ok) {
            expect(result.problems.length).toBeGreaterThan(0);
            return;
          }
          if (result.value.kind === "gpx" || result.value.kind === "csv-track") {
            const { timeS, stepRateSpm, latitudeDeg } = result.value;
            expect(timeS[0]).toBe(0);
            for (let i = 1; i < timeS.length; i += 1) expect(timeS[i]! >= timeS[i - 1]!).toBe(true);
            for (const rate of stepRateSpm) expect(Number.isNaN(rate) || (rate >= 0 && rate <= 220)).toBe(true);
            for (const latitude of latitudeDeg) expect(!(Math.abs(latitude) > 90)).toBe(true);
          }
        },
      ),
      { seed: 7, numRuns: 4000 },
    );
  });
});
