// How well each step rate explains a window: a comb of lines at the step rate's multiples, with or without the lines in
// between that a stride of two unlike steps adds. Both are weighed for every rate, so that one foot is not taken for both.

export interface CombGrid {
  /** Rates are lowSpm, lowSpm + 1, … highSpm. */
  readonly lowSpm: number;
  readonly highSpm: number;
  /** Lines above this are not used. */
  readonly topHz: number;
}

export interface CombFit {
  /** Log-likelihood ratio against "no rhythm", less the price of its lines: comb of steps only. */
  readonly alike: Float64Array;
  /** The same with stride lines. */
  readonly unlike: Float64Array;
  /** Share of the window's energy that the comb explains, mean of the groups. */
  readonly alikeShare: Float64Array;
  readonly unlikeShare: Float64Array;
  /**
   * First group only: how much of the comb's energy lies in its lowest lines (half, one and one and a half times the step
   * rate). Gait puts most of its movement there; a rate that is half the true one finds little.
   */
  readonly lowShare: Float64Array;
}

/**
 * Price of one line, nats. A line has an amplitude and a phase; two parameters estimated from n values cost ln n (Schwarz
 * 1978), about 4 for a window of 5 s. Set by simulation so that noise of any colour stays below zero.
 */
const LINE_PRICE = 1.3;
/** Width over which a spectrum is averaged to see what noise of that colour would look like: wider than a line. */
const SMOOTH_HZ = 1.2;
/** No fit explains more: steps are never the same twice. */
const MOST_SHARE = 0.97;

export interface CombModel {
  readonly grid: CombGrid;
  /**
   * Fits all rates. `spectra`: power per bin for each group; every group counts alike, whatever its unit. `lobeBins`: how
   * many bins' worth of peak power one line's energy is. Overwrites `fit`.
   */
  fit(spectra: readonly Float64Array[], lobeBins: number, fit: CombFit): void;
  createFit(): CombFit;
}

export function createCombModel(grid: CombGrid, binHz: number): CombModel {
  const rateCount = grid.highSpm - grid.lowSpm + 1;
  const lowBin = Math.ceil(0.5 / binHz);
  const topBin = Math.floor(grid.topHz / binHz) + 2;
  // Every line of every rate: nearest bin and three weights of the parabola through it and its neighbours.
  const bins: number[] = [];
  const weights: number[] = [];
  const evenStart: number[] = [];
  const oddStart: number[] = [];
  const addLines = (firstHz: number, stepHz: number): void => {
    for (let hz = firstHz; hz <= grid.topHz; hz += stepHz) {
      const bin = Math.round(hz / binHz);
      const d = hz / binHz - bin;
      bins.push(bin);
      weights.push((d * (d - 1)) / 2, 1 - d * d, (d * (d + 1)) / 2);
    }
  };
  for (let i = 0; i < rateCount; i += 1) {
    const stepHz = (grid.lowSpm + i) / 60;
    evenStart.push(bins.length);
    addLines(stepHz, stepHz);
    oddStart.push(bins.length);
    addLines(stepHz / 2, stepHz);
  }
  evenStart.push(bins.length);
  const bin = Int32Array.from(bins);
  const weight = Float64Array.from(weights);
  const even = Int32Array.from(evenStart);
  const odd = Int32Array.from(oddStart);
  const smooth = new Float64Array(topBin + 1);
  const reach = Math.round(SMOOTH_HZ / 2 / binHz);
  const lineAt = (spectrum: Float64Array, l: number): number => {
    const b = bin[l]!;
    const p =
      weight[3 * l]! * spectrum[b - 1]! + weight[3 * l + 1]! * spectrum[b]! + weight[3 * l + 2]! * spectrum[b + 1]!;
    return p > 0 ? p : 0;
  };
  const fitGroup = (
    spectrum: Float64Array,
    lobeBins: number,
    groupWeight: number,
    first: boolean,
    fit: CombFit,
  ): void => {
    const { total, freeBins } = smoothSpectrum(spectrum, smooth, lowBin, topBin, reach);
    if (!(total > 0)) return;
    const half = (groupWeight * freeBins) / lobeBins; // n/2: two real values for each independent line
    const perLine = lobeBins / total;
    for (let i = 0; i < rateCount; i += 1) {
      let steps = 0;
      let stepsByChance = 0;
      const middle = odd[i]!;
      const end = even[i + 1]!;
      for (let l = even[i]!; l < middle; l += 1) {
        steps += lineAt(spectrum, l);
        stepsByChance += smooth[bin[l]!]!;
      }
      let strides = steps;
      let stridesByChance = stepsByChance;
      for (let l = middle; l < end; l += 1) {
        strides += lineAt(spectrum, l);
        stridesByChance += smooth[bin[l]!]!;
      }
      if (first && strides > 0) {
        const low = lineAt(spectrum, even[i]!) + lineAt(spectrum, middle) + lineAt(spectrum, middle + 1);
        fit.lowShare[i] = low / strides;
      }
      const alikeShare = Math.min(steps * perLine, MOST_SHARE);
      const unlikeShare = Math.min(strides * perLine, MOST_SHARE);
      fit.alikeShare[i]! += groupWeight * alikeShare;
      fit.unlikeShare[i]! += groupWeight * unlikeShare;
      fit.alike[i]! += half * gain(alikeShare, stepsByChance * perLine);
      fit.unlike[i]! += half * gain(unlikeShare, stridesByChance * perLine);
    }
  };
  return {
    grid,
    createFit: () => ({
      alike: new Float64Array(rateCount),
      unlike: new Float64Array(rateCount),
      alikeShare: new Float64Array(rateCount),
      unlikeShare: new Float64Array(rateCount),
      lowShare: new Float64Array(rateCount),
    }),
    fit(spectra, lobeBins, fit) {
      for (let i = 0; i < rateCount; i += 1) {
        fit.alike[i] = -LINE_PRICE * (odd[i]! - even[i]!);
        fit.unlike[i] = -LINE_PRICE * (even[i + 1]! - even[i]!);
      }
      fit.alikeShare.fill(0);
      fit.unlikeShare.fill(0);
      fit.lowShare.fill(0);
      spectra.forEach((spectrum, group) => fitGroup(spectrum, lobeBins, 1 / spectra.length, group === 0, fit));
    },
  };
}

/** Log-likelihood a Gaussian residual of unknown size gains, per pair of values: against the share explained by chance. */
function gain(share: number, byChance: number): number {
  // Most rates explain no more than chance: no logarithm for them.
  return share <= byChance ? 0 : Math.log((1 - Math.min(byChance, MOST_SHARE)) / (1 - share));
}

/**
 * Moving average of the band into `smooth`. `freeBins`: how many bins the averaged power spreads over (participation
 * ratio): noise that lives in a narrow band has few independent values, and little to say.
 */
function smoothSpectrum(
  spectrum: Float64Array,
  smooth: Float64Array,
  lowBin: number,
  topBin: number,
  reach: number,
): { readonly total: number; readonly freeBins: number } {
  let total = 0;
  let sum = 0;
  let sumOfSquares = 0;
  let from = lowBin;
  let to = lowBin; // exclusive
  let running = 0;
  for (let b = lowBin; b <= topBin; b += 1) {
    total += spectrum[b]!;
    while (to <= topBin && to <= b + reach) {
      running += spectrum[to]!;
      to += 1;
    }
    while (from < b - reach) {
      running -= spectrum[from]!;
      from += 1;
    }
    const mean = Math.max(0, running / (to - from));
    smooth[b] = mean;
    sum += mean;
    sumOfSquares += mean * mean;
  }
  return { total, freeBins: sumOfSquares > 0 ? (sum * sum) / sumOfSquares : 0 };
}
