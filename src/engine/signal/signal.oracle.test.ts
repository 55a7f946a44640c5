// Filters, peaks and spectra against scipy's own values (oracles/signal/make.py).
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { designButterworth, type FilterBand } from "./butterworth.ts";
import { findPeaks, peakProminences } from "./find-peaks.ts";
import { sosFilterInPlace, sosFiltFilt } from "./sos-filter.ts";
import { welch } from "./welch.ts";

interface Values {
  readonly x: number[];
  readonly filters: readonly {
    readonly order: number;
    readonly kind: FilterBand["kind"];
    readonly cutoffsHz: number[];
    readonly responseHz: number[];
    readonly responseRe: number[];
    readonly responseIm: number[];
    readonly sosfilt: number[];
    readonly sosfiltfilt: number[];
    readonly filtfilt?: number[];
  }[];
  readonly y: number[];
  readonly peaks: readonly {
    readonly conditions: { readonly height?: number; readonly distance?: number; readonly prominence?: number };
    readonly indices: number[];
  }[];
  readonly prominences: number[];
  readonly welch: readonly {
    readonly segmentLength: number;
    readonly fftSize: number;
    readonly frequenciesHz: number[];
    readonly density: number[];
  }[];
}

const values = JSON.parse(
  readFileSync(new URL("../../../oracles/signal/values.json", import.meta.url), "utf8"),
) as Values;
const x = Float64Array.from(values.x);
const y = Float64Array.from(values.y);
const because = "the stored vectors ask for 1e-9 of the largest value";
const near = (got: ArrayLike<number>, want: readonly number[]): void =>
  expectClose(got, want, { atol: 1e-9 * Math.max(...want.map(Math.abs)), because });

describe.each(values.filters)("outside tool: scipy butter $order $kind $cutoffsHz", (filter) => {
  const band: FilterBand =
    filter.kind === "band-pass"
      ? { kind: filter.kind, lowHz: filter.cutoffsHz[0]!, highHz: filter.cutoffsHz[1]! }
      : { kind: filter.kind, cutoffHz: filter.cutoffsHz[0]! };
  const sections = designButterworth(filter.order, band, 100);

  test("transfer function", () => {
    const response = filter.responseHz.map((hz) => {
      const angle = (2 * Math.PI * hz) / 100;
      let re = 1;
      let im = 0;
      for (let s = 0; s < sections.sectionCount; s += 1) {
        const [b0, b1, b2, a1, a2] = sections.coefficients.subarray(5 * s, 5 * s + 5) as unknown as number[];
        const nRe = b0! + b1! * Math.cos(angle) + b2! * Math.cos(2 * angle);
        const nIm = -b1! * Math.sin(angle) - b2! * Math.sin(2 * angle);
        const dRe = 1 + a1! * Math.cos(angle) + a2! * Math.cos(2 * angle);
        const dIm = -a1! * Math.sin(angle) - a2! * Math.sin(2 * angle);
        const norm = dRe ** 2 + dIm ** 2;
        const qRe = (nRe * dRe + nIm * dIm) / norm;
        const qIm = (nIm * dRe - nRe * dIm) / norm;
        [re, im] = [re * qRe - im * qIm, re * qIm + im * qRe];
      }
      return { re, im };
    });
    near(
      response.map(({ re }) => re),
      filter.responseRe,
    );
    expectClose(
      response.map(({ im }) => im),
      filter.responseIm,
      { atol: 1e-9, because },
    );
  });
  test("sosfilt", () => {
    const out = x.slice();
    sosFilterInPlace(sections, out);
    near(out, filter.sosfilt);
  });
  test("sosfiltfilt, and filtfilt where its padding is the same", () => {
    const out = sosFiltFilt(sections, x);
    near(out, filter.sosfiltfilt);
    if (filter.filtfilt !== undefined) near(out, filter.filtfilt);
  });
});

test.each(values.peaks)("outside tool: scipy find_peaks $conditions", ({ conditions, indices }) => {
  const { height, distance, prominence } = conditions;
  const found = findPeaks(y, {
    ...(height === undefined ? {} : { minHeight: height }),
    ...(distance === undefined ? {} : { minDistance: distance }),
    ...(prominence === undefined ? {} : { minProminence: prominence }),
  });
  expect(Array.from(found)).toEqual(indices);
});

test("outside tool: scipy peak_prominences", () => {
  near(peakProminences(y, findPeaks(y)), values.prominences);
});

test.each(values.welch)("outside tool: scipy welch $segmentLength in $fftSize", (want) => {
  const got = welch(x, { sampleRateHz: 100, segmentLength: want.segmentLength, fftSize: want.fftSize });
  near(got.frequenciesHz, want.frequenciesHz);
  near(got.density, want.density);
});
