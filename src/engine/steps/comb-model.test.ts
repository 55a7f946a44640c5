// Lines at known places: which comb takes them, and how much of the energy.
import { describe, expect, test } from "vitest";
import { hannWindow, createRealFft } from "../signal/real-fft.ts";
import { createCombModel, type CombFit } from "./comb-model.ts";
import { RATE_GRID } from "./movement-states.ts";

const RATE_HZ = 50;
const SIZE = 512;

/** The fit of a sum of cosines at multiples of half the step rate: [multiple, amplitude]. */
function fitOf(stepRateSpm: number, lines: readonly (readonly [number, number])[]): CombFit {
  const window = hannWindow(250);
  const wave = window.map((weight, i) => {
    let sum = 0;
    for (const [multiple, amplitude] of lines)
      sum += amplitude * Math.cos((2 * Math.PI * multiple * stepRateSpm * i) / (120 * RATE_HZ) + multiple);
    return weight * sum;
  });
  const power = new Float64Array(SIZE / 2 + 1);
  createRealFft(SIZE).addPower(wave, power);
  let sum = 0;
  let squares = 0;
  for (const weight of window) {
    sum += weight;
    squares += weight * weight;
  }
  const model = createCombModel(RATE_GRID, RATE_HZ / SIZE);
  const fit = model.createFit();
  model.fit([power], (SIZE * squares) / (sum * sum), fit);
  return fit;
}
const at = (rate: number): number => rate - RATE_GRID.lowSpm;
const argmax = (values: Float64Array): number => RATE_GRID.lowSpm + values.indexOf(Math.max(...values));

describe("createCombModel", () => {
  test.each([140, 163, 176, 199])("closed form: a step comb at %s spm is all explained by its rate, alike", (rate) => {
    const fit = fitOf(rate, [
      [2, 3],
      [4, 2],
      [6, 1],
    ]);
    expect(Math.abs(argmax(fit.alike) - rate)).toBeLessThanOrEqual(1); // the grid's own step
    expect(fit.alikeShare[at(rate)]!).toBeGreaterThan(0.92);
    expect(fit.alikeShare[at(rate)]!).toBeLessThanOrEqual(0.97);
    expect(fit.lowShare[at(rate)]!).toBeCloseTo(9 / 14, 1);
  });
  test.each([140, 163, 176, 199])("closed form: a stride comb at %s spm needs the lines in between", (rate) => {
    const fit = fitOf(rate, [
      [1, 3],
      [2, 1],
      [3, 2],
      [4, 1],
    ]);
    expect(Math.abs(argmax(fit.unlike) - rate)).toBeLessThanOrEqual(1);
    expect(fit.unlikeShare[at(rate)]!).toBeGreaterThan(0.9);
    // Even lines hold 2 of 15.
    expect(fit.alikeShare[at(rate)]!).toBeLessThan(0.25);
    expect(fit.alike[at(rate)]!).toBeLessThan(fit.unlike[at(rate)]!);
  });
  test("half the true rate finds little in its lowest lines", () => {
    const fit = fitOf(180, [
      [2, 3],
      [4, 1],
    ]);
    expect(fit.lowShare[at(180)]!).toBeGreaterThan(0.85);
    expect(fit.lowShare[at(90)]!).toBeLessThan(0.1);
  });
  test("silence explains nothing, and lines still have their price", () => {
    const model = createCombModel(RATE_GRID, RATE_HZ / SIZE);
    const fit = model.createFit();
    model.fit([new Float64Array(SIZE / 2 + 1)], 3, fit);
    expect(Math.max(...fit.alike, ...fit.unlike)).toBeLessThan(0);
    expect(Math.max(...fit.unlikeShare)).toBe(0);
  });
});
