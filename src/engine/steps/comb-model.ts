// How well each step rate explains a window: a comb of lines at the step rate's multiples, with or without the lines in
// between that a stride of two unlike steps adds. Both are weighed for every rate, so that one foot is not taken for both.

export interface CombGrid {
  /** Rates are lowSpm, lowSpm + 1, … highSpm, both whole. */
  readonly lowSpm: number;
  readonly highSpm: number;
  /** Lines above this are not used. */
  readonly topHz: number;
}

export interface CombFit {
  /** Log-likelihood ratio against noise of the same colour, less the price of its lines: comb of steps only. */
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
  /** First group only: share of its energy in the step lines, and in the stride lines, which include them. */
  readonly stepShare: Float64Array;
  readonly strideShare: Float64Array;
}

export interface CombModel {
  readonly grid: CombGrid;
  /** The highest bin that is read. */
  readonly topBin: number;
  /**
   * Fits all rates. `spectra`: power per bin for each group; every group counts alike, whatever its unit. `lobeBins`: how
   * many bins' worth of peak power one line's energy is. Overwrites `fit`.
   */
  fit(spectra: readonly Float64Array[], lobeBins: number, fit: CombFit): void;
  createFit(): CombFit;
}

/**
 * Price of one line, nats. A line has an amplitude and a phase, and noise always fits them a little. Chosen by simulation:
 * at 1 some windows of coloured noise and of a shaken car begin to look like steps, at 1.3 none of thousands does.
 */
const LINE_PRICE = 1.3;
/** Width over which a spectrum is averaged to see what noise of that colour would look like: wider than a line. */
const SMOOTH_HZ = 1.2;
/** Nothing slower is gait: half a stroll's stride rate, and the turning of the sensor lies below. */
const LOW_HZ = 0.5;
/** Even a perfect fit is not trusted more than this: steps are never the same twice. */
const MOST_SHARE = 0.97;

/** All stride lines of whole rates r lie at multiples of r/120 Hz, so one table of that pitch serves them all. */
const TICKS_PER_HZ = 120;

export function createCombModel(grid: CombGrid, binHz: number): CombModel {
  const { lowSpm } = grid;
  const rateCount = grid.highSpm - lowSpm + 1;
  const lowBin = Math.ceil(LOW_HZ / binHz);
  const topBin = Math.floor(grid.topHz / binHz) + 2;
  const tickCount = Math.floor(grid.topHz * TICKS_PER_HZ) + 1;
  const reach = Math.round(SMOOTH_HZ / 2 / binHz);
  const smooth = new Float64Array(topBin + 1);
  const power = new Float64Array(tickCount);
  const chance = new Float64Array(tickCount);
  // Sums over all lines of a comb by its pitch in ticks: at the stride lines of a rate, and at twice that, its step lines.
  const combPower = new Float64Array(2 * grid.highSpm + 1);
  const combChance = new Float64Array(2 * grid.highSpm + 1);
  const strideLines = Float64Array.from({ length: rateCount }, (_, i) => Math.floor((tickCount - 1) / (lowSpm + i)));
  const offBin = Float64Array.from(power, (_, tick) => tick / (TICKS_PER_HZ * binHz) - nearestBin(tick, binHz));
  /** First tick that is nearest to each bin. */
  const firstTick = Int32Array.from({ length: topBin + 1 }, (_, b) => {
    let tick = 0;
    while (tick < tickCount && nearestBin(tick, binHz) < b) tick += 1;
    return tick;
  });
  const bottomBin = nearestBin(lowSpm, binHz);

  /** Power at each tick, by the parabola through the nearest bin and its neighbours, and what the smooth spectrum has there. */
  const tabulate = (spectrum: Float64Array, scale: number): void => {
    // Local names: the optimiser then keeps them in registers.
    const [toPower, toChance, offs, starts, last] = [power, chance, offBin, firstTick, topBin];
    for (let b = bottomBin; b < last; b += 1) {
      const left = scale * spectrum[b - 1]!;
      const middle = scale * spectrum[b]!;
      const right = scale * spectrum[b + 1]!;
      const slope = 0.5 * (right - left);
      const bend = 0.5 * (left - 2 * middle + right);
      const byChance = scale * smooth[b]!;
      const end = starts[b + 1]!;
      for (let tick = starts[b]!; tick < end; tick += 1) {
        const d = offs[tick]!;
        const value = middle + d * (slope + d * bend);
        toPower[tick] = value > 0 ? value : 0;
        toChance[tick] = byChance;
      }
    }
  };

  /** From the widest pitch down: every second line of a comb is a comb of twice its pitch, whose sum is there already. */
  const sumCombs = (): void => {
    const [lines, byChance, toPower, toChance, end] = [power, chance, combPower, combChance, tickCount];
    const high = grid.highSpm;
    for (let pitch = 2 * high; pitch >= lowSpm; pitch -= pitch > high ? 2 : 1) {
      const known = pitch <= high;
      let sum = known ? toPower[2 * pitch]! : 0;
      let sumByChance = known ? toChance[2 * pitch]! : 0;
      const step = known ? 2 * pitch : pitch;
      for (let tick = pitch; tick < end; tick += step) {
        sum += lines[tick]!;
        sumByChance += byChance[tick]!;
      }
      toPower[pitch] = sum;
      toChance[pitch] = sumByChance;
    }
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
    const scale = lobeBins / total;
    tabulate(spectrum, scale);
    sumCombs();
    for (let i = 0; i < rateCount; i += 1) {
      const tick = lowSpm + i; // half the step rate
      const pair = 2 * tick;
      const strides = combPower[tick]!;
      if (first && strides > 0) {
        fit.stepShare[i] = combPower[pair]!;
        fit.strideShare[i] = strides;
        const third = tick + pair < tickCount ? power[tick + pair]! : 0;
        fit.lowShare[i] = (power[tick]! + power[pair]! + third) / strides;
      }
      const alikeShare = MOST_SHARE * Math.min(combPower[pair]!, 1);
      const unlikeShare = MOST_SHARE * Math.min(strides, 1);
      fit.alikeShare[i]! += groupWeight * alikeShare;
      fit.unlikeShare[i]! += groupWeight * unlikeShare;
      // −ln(1 − share) is at most share/(1 − share): a comb that cannot earn half of its price is not weighed further.
      const price = 0.5 * groupWeight * LINE_PRICE * strideLines[i]!;
      if (half * unlikeShare < price * (1 - unlikeShare)) continue;
      fit.alike[i]! += half * gain(alikeShare, combChance[pair]!);
      fit.unlike[i]! += half * gain(unlikeShare, combChance[tick]!);
    }
  };
  return {
    grid,
    topBin,
    createFit: () => ({
      alike: new Float64Array(rateCount),
      unlike: new Float64Array(rateCount),
      alikeShare: new Float64Array(rateCount),
      unlikeShare: new Float64Array(rateCount),
      lowShare: new Float64Array(rateCount),
      stepShare: new Float64Array(rateCount),
      strideShare: new Float64Array(rateCount),
    }),
    fit(spectra, lobeBins, fit) {
      for (let i = 0; i < rateCount; i += 1) {
        const lines = strideLines[i]!;
        fit.alike[i] = -LINE_PRICE * (lines >> 1);
        fit.unlike[i] = -LINE_PRICE * lines;
      }
      fit.alikeShare.fill(0);
      fit.unlikeShare.fill(0);
      fit.lowShare.fill(0);
      fit.stepShare.fill(0);
      fit.strideShare.fill(0);
      spectra.forEach((spectrum, group) => fitGroup(spectrum, lobeBins, 1 / spectra.length, group === 0, fit));
    },
  };
}

function nearestBin(tick: number, binHz: number): number {
  return Math.round(tick / (TICKS_PER_HZ * binHz));
}

/** Log-likelihood a Gaussian residual of unknown size gains, per pair of values, over the share explained by chance. */
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
