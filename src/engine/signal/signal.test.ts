// Closed forms and properties of the signal tools, beside the outside values in signal.oracle.test.ts.
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { createAreaResampler } from "./area-resampler.ts";
import { designButterworth } from "./butterworth.ts";
import { findPeaks, peakProminences } from "./find-peaks.ts";
import { createRealFft } from "./real-fft.ts";
import { sosFiltFilt } from "./sos-filter.ts";

describe("findPeaks", () => {
  test("closed form: a plateau counts once, at its middle; ends never count", () => {
    expect(Array.from(findPeaks(Float64Array.of(5, 1, 3, 3, 3, 3, 1, 2, 2)))).toEqual([3]);
    expect(Array.from(findPeaks(new Float64Array(5)))).toEqual([]);
    expect(Array.from(findPeaks(new Float64Array(0)))).toEqual([]);
  });
  test("slow twin: thinning by distance equals taking the peaks from the highest down, on signals full of ties", () => {
    const random = createRandom(17);
    for (let trial = 0; trial < 300; trial += 1) {
      const levels = 2 + random.below(30);
      const x = Float64Array.from({ length: 120 }, () => random.below(levels));
      const minDistance = 1 + random.below(15);
      const all = Array.from(findPeaks(x));
      const kept: number[] = [];
      // Of equal heights the later first, as a stable sort read from its end gives.
      for (const at of all.toSorted((a, b) => x[b]! - x[a]! || b - a))
        if (kept.every((other) => Math.abs(other - at) >= minDistance)) kept.push(at);
      expect(Array.from(findPeaks(x, { minDistance })), `trial ${trial}`).toEqual(kept.toSorted((a, b) => a - b));
    }
  });
  test("slow twin: prominence by its definition", () => {
    const random = createRandom(18);
    for (let trial = 0; trial < 100; trial += 1) {
      const x = Float64Array.from({ length: 100 }, () => random.below(20));
      const minProminence = 1 + random.below(12);
      const all = findPeaks(x);
      const wanted = Array.from(all).filter((_, i) => peakProminences(x, all)[i]! >= minProminence);
      expect(Array.from(findPeaks(x, { minProminence }))).toEqual(wanted);
    }
  });
  test("programmer's error: a distance below one sample", () => {
    expect(() => findPeaks(new Float64Array(3), { minDistance: 0 })).toThrow("minDistance must be at least 1");
  });
});

describe("designButterworth", () => {
  test("closed form: twice −3 dB forward and backward at the cut-off, and no delay", () => {
    const rate = 100;
    const wave = Float64Array.from({ length: 2000 }, (_, i) => Math.sin((2 * Math.PI * 5 * i) / rate));
    const out = sosFiltFilt(designButterworth(4, { kind: "low-pass", cutoffHz: 5 }, rate), wave);
    // |H|² = ½ at the cut-off, applied twice in amplitude terms: ½.
    expectClose(
      out.subarray(800, 1200),
      wave.subarray(800, 1200).map((v) => v / 2),
      {
        atol: 1e-9,
        because: "definition of the cut-off, far from the ends",
      },
    );
  });
  test.each([0, 13, 2.5])("programmer's error: order %s", (order) => {
    expect(() => designButterworth(order, { kind: "low-pass", cutoffHz: 5 }, 100)).toThrow(RangeError);
  });
  test.each([0, 50, Number.NaN])("programmer's error: cut-off %s of 100 Hz", (cutoffHz) => {
    expect(() => designButterworth(2, { kind: "low-pass", cutoffHz }, 100)).toThrow("cut-off must be in (0, 50) Hz");
  });
  test("programmer's error: too short for the padding", () => {
    expect(() =>
      sosFiltFilt(designButterworth(2, { kind: "low-pass", cutoffHz: 5 }, 100), new Float64Array(9)),
    ).toThrow("more than 9 samples");
  });
});

test("slow twin: power of one and of two real signals equals the plain sum of the transform", () => {
  const random = createRandom(3);
  const a = Float64Array.from({ length: 13 }, () => random.normal());
  const b = Float64Array.from({ length: 13 }, () => random.normal());
  const plain = (x: Float64Array): number[] =>
    Array.from({ length: 9 }, (_, k) => {
      let re = 0;
      let im = 0;
      x.forEach((v, i) => {
        re += v * Math.cos((2 * Math.PI * k * i) / 16);
        im -= v * Math.sin((2 * Math.PI * k * i) / 16);
      });
      return re * re + im * im;
    });
  const fft = createRealFft(16);
  const single = new Float64Array(9);
  fft.addPower(a, single);
  const first = new Float64Array(9);
  const second = new Float64Array(9);
  fft.addPowerOfTwo(a, b, first, second);
  const options = { atol: 1e-12, because: "exact up to rounding of a 16-point sum" };
  expectClose(single, plain(a), options);
  expectClose(first, plain(a), options);
  expectClose(second, plain(b), options);
});

describe("createAreaResampler", () => {
  const run = (times: readonly number[], f: (t: number) => number, rate: number): number[] => {
    const out: number[] = [];
    const resampler = createAreaResampler(rate, (index, [x, y, z]) => {
      expect(index).toBe(out.length);
      out.push(x!);
      // Each axis is averaged on its own.
      expectClose([y!, z!], [2 * x!, 1 - x!], { atol: 1e-9, because: "a mean is linear" });
    });
    const values = Float64Array.from(times, f);
    const samples = {
      timeS: Float64Array.from(times),
      x: values,
      y: values.map((value) => 2 * value),
      z: values.map((value) => 1 - value),
    };
    times.forEach((_, i) => resampler.push(samples, i));
    return out;
  };

  test("closed form: a ramp comes back as the ramp, whatever the jitter, duplicates and clock origin", () => {
    const random = createRandom(7);
    const origin = 1_700_000_000;
    const times = [origin];
    for (let i = 0; i < 500; i += 1) times.push(times[i]! + (i % 7 === 0 ? 0 : 0.005 + 0.02 * random.next()));
    const out = run(times, (t) => 3 * (t - origin) + 1, 50);
    expect(out.length).toBe(Math.floor((times.at(-1)! - origin) * 50 + 0.5));
    expectClose(
      out.slice(1),
      out.slice(1).map((_, k) => (3 * (k + 1)) / 50 + 1),
      {
        atol: 1e-5,
        because: "a double of 1.7e9 s resolves 2.4e-7 s",
      },
    );
    expectClose(out[0]!, 1 + 3 * 0.005, { atol: 1e-5, because: "first half interval only" });
  });
  test("closed form: a tone at the output rate is removed, a slow one passes with sinc loss", () => {
    const times = Array.from({ length: 4000 }, (_, i) => i / 400);
    const alias = run(times, (t) => Math.sin(2 * Math.PI * 50 * t + 0.4), 50);
    expect(Math.max(...alias.slice(1).map(Math.abs))).toBeLessThan(1e-9);
    const slow = run(times, (t) => Math.cos(2 * Math.PI * 5 * t), 50);
    const loss = Math.sin(Math.PI * 0.1) / (Math.PI * 0.1);
    expectClose(
      slow.slice(1),
      slow.slice(1).map((_, k) => loss * Math.cos((2 * Math.PI * 5 * (k + 1)) / 50)),
      {
        atol: 1e-3,
        because: "the input is piecewise linear at 400 Hz: chord error (π·5/400)²/2 of the amplitude",
      },
    );
  });
});
