// The motion table reader: what it understands, what it finds out, what it refuses.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { type Result } from "../quantities/problem.ts";
import { STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";
import { readMotionCsv } from "./motion-csv.ts";
import { type MotionRecording } from "./recording.ts";

const read = (text: string): Result<MotionRecording> => readMotionCsv(text, { fileName: "m.csv" });
const good = (text: string): MotionRecording => {
  const result = read(text);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
};
const codes = (text: string): string[] => {
  const result = read(text);
  return result.ok ? [] : result.problems.map((problem) => problem.code);
};
const warningCodes = (text: string): string[] => {
  const result = read(text);
  return result.ok ? result.warnings.map((warning) => warning.code) : [];
};
/** Ten rows at 100 Hz with gravity on z. */
const rows = (row: (i: number) => string): string => Array.from({ length: 10 }, (_, i) => row(i)).join("\n");
const exact = { rtol: 1e-12, because: "a plain conversion" };

describe("headers and units", () => {
  test.each([
    ["time_s,x_mps2,y_mps2,z_mps2", (i: number) => `${i / 100},1,2,9.5`, 1],
    ["time_ms,x_g,y_g,z_g", (i: number) => `${i * 10},1,2,9.5`, STANDARD_GRAVITY_MPS2],
    [
      "Time (ns),Acceleration x (m/s²),Acceleration y (m/s²),Acceleration z (m/s²)",
      (i: number) => `${i}0000000,1,2,9.5`,
      1,
    ],
    ["timestamp [us],ax [m/s^2],ay [m/s^2],az [m/s^2]", (i: number) => `${i}0000,1,2,9.5`, 1],
    ["t (s),accX (mg),accY (mg),accZ (mg)", (i: number) => `${i / 100},1,2,9.5`, STANDARD_GRAVITY_MPS2 / 1000],
    ['"time_s","x_mps2","y_mps2","z_mps2"', (i: number) => `"${i / 100}","1","2","9.5"`, 1],
    ["# a note\ntime_s\tx_mps2\ty_mps2\tz_mps2", (i: number) => `${i / 100}\t1\t2\t9.5`, 1],
  ])("closed form: %s", (header, row, factor) => {
    const recording = good(`${header}\n${rows(row)}\n`);
    expectClose(
      recording.timeS,
      Array.from({ length: 10 }, (_, i) => i / 100),
      { atol: 1e-9, because: "ns of 1e8" },
    );
    expectClose(
      recording.accelXMps2,
      Array.from({ length: 10 }, () => factor),
      exact,
    );
    expectClose(
      recording.accelYMps2,
      Array.from({ length: 10 }, () => 2 * factor),
      exact,
    );
    expectClose(
      recording.accelZMps2,
      Array.from({ length: 10 }, () => 9.5 * factor),
      exact,
    );
  });

  test("closed form: any order, other sensors and columns between, semicolons with decimal commas", () => {
    const header = "gyro_x;z_mps2;note;gyro_y;time_s;x_mps2;gyro_z;y_mps2";
    const recording = good(`${header}\n${rows((i) => `7;9,75;a;7;0,0${i};1,5;7;-2,25`)}`);
    expect(recording.accelXMps2[3]).toBe(1.5);
    expect(recording.accelYMps2[3]).toBe(-2.25);
    expect(recording.accelZMps2[3]).toBe(9.75);
    expect(recording.timeS[9]).toBeCloseTo(0.09, 12);
  });

  test("acceleration with gravity is taken before linear acceleration, and before bare axes", () => {
    const header =
      "time_s,x,y,z,linear acc x (m/s2),linear acc y (m/s2),linear acc z (m/s2),acc x (m/s2),acc y (m/s2),acc z (m/s2)";
    const recording = good(`${header}\n${rows((i) => `${i / 100},7,7,7,0,0,1,0,0,9.8`)}`);
    expect(recording.accelZMps2[0]).toBe(9.8);
    expect(recording.gravity).toBe("included");
  });

  test("linear acceleration alone has gravity removed, without a look at the numbers", () => {
    const recording = good(`time_s,linX_mps2,linY_mps2,linZ_mps2\n${rows((i) => `${i / 100},0,0,9.8`)}`);
    expect(recording.gravity).toBe("removed");
  });

  test("ISO 8601 times give the start and the seconds", () => {
    const recording = good(`time,x_g,y_g,z_g\n${rows((i) => `2026-03-01T10:00:00.${i}00+01:00,0,0,1`)}`);
    expect(recording.startedAtMs).toBe(Date.UTC(2026, 2, 1, 9));
    expectClose(
      recording.timeS,
      Array.from({ length: 10 }, (_, i) => i / 10),
      { atol: 1e-6, because: "doubles of 2^41 ms" },
    );
  });

  test("epoch milliseconds are a clock; a stopwatch is not", () => {
    expect(good(`time_ms,x_g,y_g,z_g\n${rows((i) => `${1_772_000_000_000 + 20 * i},0,0,1`)}`).startedAtMs).toBe(
      1_772_000_000_000,
    );
    expect(good(`time_ms,x_g,y_g,z_g\n${rows((i) => `${5000 + 20 * i},0,0,1`)}`).startedAtMs).toBeUndefined();
  });
});

describe("what the header does not say", () => {
  test.each([
    ["m/s²", 9.8, 1],
    ["g", 1, STANDARD_GRAVITY_MPS2],
    ["mg", 1000, STANDARD_GRAVITY_MPS2 / 1000],
  ])("unit found from gravity: %s", (_, size, factor) => {
    const text = `time,x,y,z\n${rows((i) => `${i * 20},0,0,${size}`)}`;
    expectClose(good(text).accelZMps2[0]!, size * factor, exact);
    expect(warningCodes(text)).toEqual(["motion-time-unit-found", "motion-unit-found", "motion-gravity-included"]);
  });
  test("gravity removed is told from the numbers when the unit is known", () => {
    const text = `time_s,x_mps2,y_mps2,z_mps2\n${rows((i) => `${i / 50},${i % 2 === 0 ? 8 : -8},0,0`)}`;
    expect(good(text).gravity).toBe("removed");
    expect(warningCodes(text)).toEqual(["motion-gravity-removed"]);
  });
  test("no unit and no gravity is not guessed", () => {
    expect(codes(`time_s,x,y,z\n${rows((i) => `${i / 50},${i % 2 === 0 ? 8 : -8},0,0`)}`)).toEqual([
      "motion-unit-unknown",
    ]);
  });
});

describe("what is refused, and where", () => {
  test.each([
    ["", ["motion-no-rows"]],
    ["time_s,x_g,y_g,z_g\n", ["motion-no-rows"]],
    ["0.00,0.1,0.2,0.9\n0.01,0.1,0.2,0.9", ["motion-no-header"]],
    ["0,00;0,1;0,2;0,9\n0,01;0,1;0,2;0,9", ["motion-no-header"]],
    ["x_g,y_g,z_g\n0,0,1\n0,0,1", ["motion-no-time"]],
    ["time_s,x_g,y_g\n0,0,1\n0.01,0,1", ["motion-missing-axis"]],
    ["time_s,gyro_x,gyro_y,gyro_z\n0,0,0,1\n0.01,0,0,1", ["motion-no-axes"]],
    ["time_s,heart_rate\n0,100\n1,101", ["motion-no-axes"]],
    ["time_s,x_g,y_g,z_g\n0,0,0,1\n60,0,0,1\n120,0,0,1", ["motion-sample-rate"]],
    ["time_s,x_g,y_g,z_g\n0,0,0,1\n0.01,0,0,one\n0.02,0,,1", ["motion-bad-number"]],
    // Beyond what can be counted with: found by mutation, it gave infinite times.
    ["time_s,x_g,y_g,z_g\n0,0,0,1\n11e308,0,0,1\n0.02,0,0,1", ["motion-bad-number"]],
    [`time_s,x_g,y_g,z_g\n0,0,0,1\n${"3".repeat(400)},0,0,1\n0.02,0,0,1`, ["motion-bad-number"]],
    ["time_s,x_g,y_g,z_g\n0,0,0,1\n0.01,0,-1e200,1\n0.02,0,0,1", ["motion-bad-number"]],
    ["time_s,x_g,y_g,z_g\n0.03,0,0,1\n0.02,0,0,1\n0.01,0,0,1\n0.02,0,0,1", ["motion-time-order"]],
    ['time_s,x_g,y_g,z_g\n0,0,0,"1\n0.01,0,0,1', ["csv-quotes"]],
  ])("%j", (text, expected) => expect(codes(text)).toEqual(expected));

  test("a missing axis is named", () => {
    const result = read("time_s,x_g,y_g\n0,0,1\n0.01,0,1");
    if (result.ok) throw new Error("read");
    expect(result.problems[0]).toMatchObject({
      got: "only x_g and y_g",
      remedy: expect.stringContaining("the z axis"),
    });
  });
  test("a bad number has its row and column", () => {
    const result = read("time_s,x_g,y_g,z_g\n0,0,0,1\n0.01,0,zero,1");
    if (result.ok) throw new Error("read");
    expect(result.problems[0]!.where).toEqual({ file: "m.csv", row: 2, column: "y_g" });
  });
  test("rows beyond the limit", () => {
    const text = `time_s,x_g,y_g,z_g\n${rows((i) => `${i / 100},0,0,1`)}`;
    const limited = (maxPoints: number): boolean =>
      readMotionCsv(text, { fileName: "m.csv", limits: { maxPoints } }).ok;
    expect([limited(9), limited(10)]).toEqual([false, true]);
  });
  test("time allowed", () => {
    const text = `time_s,x_g,y_g,z_g\n${Array.from({ length: 20_000 }, (_, i) => `${i / 100},0,0,1`).join("\n")}`;
    const result = readMotionCsv(text, { fileName: "m.csv", limits: { expired: () => true } });
    expect(result.ok ? [] : result.problems.map((problem) => problem.code)).toEqual(["reading-took-too-long"]);
  });
});

describe("small faults are told and passed over", () => {
  test("missing values become NaN, rows without a time go, backward times are counted", () => {
    const text = `time_s,x_g,y_g,z_g\n${rows((i) => `${i / 100},0,${i === 4 ? "NaN" : 0},1`)}\n,0,0,1\n0.05,0,0,1`;
    expect(warningCodes(text)).toEqual([
      "motion-time-backward",
      "motion-time-missing",
      "motion-gravity-included",
      "motion-missing-values",
    ]);
    expect(good(text).accelYMps2[4]).toBeNaN();
    expect(good(text).timeS.length).toBe(11);
  });
});

test("property: every number survives exactly, however it is written", () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e6, max: 1e6 }), { minLength: 2 }),
      (values) => {
        const text = `time_s,x_mps2,y_mps2,z_mps2\n${values.map((v, i) => `${i / 100},${v},${v.toFixed(6)},9.8`).join("\n")}`;
        const recording = good(text);
        expect(Array.from(recording.accelXMps2)).toEqual(values.map((v) => Number(String(v))));
        expect(Array.from(recording.accelYMps2)).toEqual(values.map((v) => Number(v.toFixed(6))));
      },
    ),
    { seed: 11, numRuns: 200 },
  );
});
