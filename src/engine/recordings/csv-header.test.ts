import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createNumberReader, findDelimiter } from "./csv-cells.ts";
import { paceToMps, parseColumn, unitFactor } from "./csv-header.ts";

describe("header cells", () => {
  test.each([
    ["time_s", "time", 1],
    ["Time [ms]", "time", 0.001],
    ["elapsed time (min)", "time", 60],
    ["timestamp", "time", 1],
    ["Latitude (°)", "latitude", 1],
    ["lng", "longitude", 1],
    ["altitude (ft)", "elevation", 0.3048],
    ["speed (m/s)", "speed", 1],
    ["speed_mps", "speed", 1],
    ["speed_kmh", "speed", 1 / 3.6],
    ["Speed [km/h]", "speed", 1 / 3.6],
    ["belt speed mph", "speed", 0.44704],
    ["distance_km", "distance", 1000],
    ["distance (miles)", "distance", 1609.344],
    ["heart_rate_bpm", "heartRate", 1],
    ["HR", "heartRate", 1],
  ])("closed form: %s", (header, kind, factor) => {
    const column = parseColumn(header, 0);
    if (column === undefined) throw new Error("not known");
    expect(column.kind).toBe(kind);
    expectClose(unitFactor(column), factor, { rtol: 1e-12, because: "definition of the unit" });
  });

  test.each([
    ["cadence (steps/min)", "both"],
    ["step_rate", "both"],
    ["cadence (both feet)", "both"],
    ["cadence (per foot)", "one"],
    ["cadence_one_leg", "one"],
    ["strides per minute", "one"],
    ["cadence_rpm", "one"],
    ["cadence", undefined],
    ["cadence_spm", undefined],
  ])("[M3] %s says which feet it counts", (header, feet) => {
    expect(parseColumn(header, 0)).toMatchObject({ kind: "cadence" });
    expect(parseColumn(header, 0)?.feet).toBe(feet);
  });

  test.each(["note", "temperature", "power_w", "", "lap"])("%s is not read", (header) => {
    expect(parseColumn(header, 0)).toBeUndefined();
  });

  test.each([
    ["pace_min_per_km", 5.5, false, 1000 / 330],
    ["pace (min/km)", 330, true, 1000 / 330],
    ["pace s/km", 300, false, 1000 / 300],
    ["pace min/mile", 480, true, 1609.344 / 480],
  ])("closed form: %s of %d", (header, value, isClock, speed) => {
    const column = parseColumn(header, 0);
    if (column === undefined) throw new Error("not known");
    expectClose(paceToMps(column, value, isClock), speed, { rtol: 1e-12, because: "definition" });
  });
});

describe("cells", () => {
  test("one decimal mark in one file", () => {
    const numbers = createNumberReader();
    expect(numbers.read("12")).toEqual({ kind: "number", value: 12 });
    expect(numbers.read("3,5")).toEqual({ kind: "number", value: 3.5 });
    expect(numbers.read("3.5")).toEqual({ kind: "text" });
    expect(numbers.read("-1,5e3")).toEqual({ kind: "number", value: -1500 });
    expect(numbers.read("1.234,5")).toEqual({ kind: "text" });
    for (const missing of ["", " ", "NaN", "n/a", "-"]) expect(numbers.read(missing)).toEqual({ kind: "missing" });
    for (const text of ["high", "1 2", "0x10", "Infinity"]) expect(numbers.read(text)).toEqual({ kind: "text" });
  });

  test("the delimiter is the one that a decimal comma leaves free", () => {
    expect(findDelimiter("a,b,c")).toBe(",");
    expect(findDelimiter("a;b;c")).toBe(";");
    expect(findDelimiter("a\tb\tc")).toBe("\t");
    expect(findDelimiter('"a;b",c')).toBe(",");
  });
});
