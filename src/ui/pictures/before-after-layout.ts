// Geometry of the before/after field: numbers in, pixels out. The drawing only prints what is computed here.
import { scaleLinear } from "d3-scale";
import type { Interval } from "../../engine/quantities/uncertain.ts";
import { bothFeetSpm, rateForFeet } from "../../engine/quantities/feet.ts";
import type { Reading } from "../words/format.ts";
import { linearTicks, speedTicks, spreadLabels, type Tick } from "./ticks.ts";

export interface FieldPoint {
  readonly speedMps: number;
  readonly stepRateSpm: number;
}

/** One side: its fitted line by rising speed (at least two points), one point per run, and the steady minutes behind them. */
export interface FieldSide {
  readonly line: readonly FieldPoint[];
  readonly runs: readonly FieldPoint[];
  readonly minutes: readonly FieldPoint[];
}

/** A band step rate = low…high · (v / speedMps)^exponent. */
export interface FieldTarget {
  readonly lowSpm: number;
  readonly highSpm: number;
  readonly speedMps: number;
  readonly exponent: number;
}

interface FieldGap {
  readonly speedMps: number;
  /** After minus before at that speed, both feet. */
  readonly changeSpm: number;
  readonly interval95: Interval;
}

export interface FieldData {
  readonly before?: FieldSide;
  readonly after?: FieldSide;
  readonly target?: FieldTarget;
  readonly gap?: FieldGap;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface FieldLayout {
  readonly width: number;
  readonly height: number;
  readonly box: Box;
  /** Values in the reader's foot count. */
  readonly rateTicks: readonly Tick[];
  readonly speedTicks: readonly Tick[];
  readonly x: (speedMps: number) => number;
  readonly y: (stepRateSpm: number) => number;
  readonly beforePath?: string;
  readonly afterPath?: string;
  readonly targetPath?: string;
  readonly gap?: {
    readonly x: number;
    readonly fromY: number;
    readonly toY: number;
    readonly lowY: number;
    readonly highY: number;
    /** The flag's text is centred here; its rule runs from ruleX1 to ruleX2 and always reaches the mast. */
    readonly flagX: number;
    readonly ruleX1: number;
    readonly ruleX2: number;
  };
  readonly labels: readonly {
    readonly name: "before" | "after" | "target";
    readonly x: number;
    readonly y: number;
    readonly fromY: number;
  }[];
}

const LINE_PX = 15;
const FLAG_PX = 168;
/** The vertical axis' caption stands here; the flag keeps clear of it. */
const CAPTION_PX = 96;

/** Lays the field out in `width` pixels (320–1200). The height follows the width, and is never under 250. */
export function layoutField(data: FieldData, width: number, reading: Reading): FieldLayout {
  const height = Math.round(Math.min(420, Math.max(270, width * 0.58)));
  const hasGap = data.gap !== undefined;
  const box: Box = { left: 36, right: width - 52, top: hasGap ? 52 : 26, bottom: height - 40 };
  const { speeds, rates } = extent(data);
  const xScale = scaleLinear()
    .domain(padded(speeds.low, speeds.high, 0.06, 0.3))
    .range([box.left, box.right]);
  const yScale = scaleLinear()
    .domain(padded(rates.low, rates.high, 0.1, 12))
    .range([box.bottom, box.top]);
  const x = (speed: number): number => xScale(speed);
  const y = (rate: number): number => yScale(rate);
  const [lowMps = 0, highMps = 1] = xScale.domain();
  const [lowSpm = 0, highSpm = 1] = yScale.domain();

  const beforePath = data.before && linePath(data.before.line, x, y);
  const afterPath = data.after && linePath(data.after.line, x, y);
  const targetSpan = spanOfTarget(data, lowMps, highMps);
  const targetPath = data.target && bandPath(data.target, targetSpan, x, y);

  const wanted: { name: "before" | "after" | "target"; x: number; fromY: number }[] = [];
  if (data.target)
    wanted.push({
      name: "target",
      x: x(targetSpan.high),
      fromY: y(scaled((data.target.lowSpm + data.target.highSpm) / 2, data.target, targetSpan.high)),
    });
  for (const name of ["after", "before"] as const) {
    const end = data[name]?.line.at(-1);
    if (end) wanted.push({ name, x: x(end.speedMps), fromY: y(end.stepRateSpm) });
  }
  const spread = spreadLabels(
    wanted.map((label) => label.fromY),
    LINE_PX,
    box.top + 4,
    box.bottom - 4,
  );

  const refX = data.gap && x(data.gap.speedMps);
  const allSpeedTicks = speedTicks(lowMps, highMps, x, 56, reading.speed);
  // Round in the coach's own foot count, not in ours.
  const rateTicks = linearTicks(
    rateForFeet(lowSpm, reading.feet),
    rateForFeet(highSpm, reading.feet),
    (value) => y(bothFeetSpm({ value, feet: reading.feet })),
    34,
  );
  return {
    width,
    height,
    box,
    rateTicks,
    // The reference speed is written on the axis itself; a round pace under it gives way.
    speedTicks: allSpeedTicks.filter((tick) => refX === undefined || Math.abs(tick.position - refX) >= 44),
    x,
    y,
    ...(beforePath === undefined ? {} : { beforePath }),
    ...(afterPath === undefined ? {} : { afterPath }),
    ...(targetPath === undefined ? {} : { targetPath }),
    ...(data.gap && data.before ? { gap: layoutGap(data.gap, data.before, x, y, box) } : {}),
    labels: wanted.map((label, i) => ({ ...label, y: spread[i] ?? label.fromY })),
  };
}

/** A line's step rate at a speed: straight between its points on logarithms, which is exact for a power; carried on past its ends. */
export function along(line: readonly FieldPoint[], speedMps: number): number {
  const upper = line.findIndex((point) => point.speedMps >= speedMps);
  const right = upper === -1 ? line.length - 1 : Math.max(1, upper);
  const from = line[right - 1] ?? line[0];
  const to = line[right] ?? from;
  if (!from || !to) throw new RangeError("along: line must hold at least one point, got 0");
  if (from.speedMps === to.speedMps) return from.stepRateSpm;
  const share = Math.log(speedMps / from.speedMps) / Math.log(to.speedMps / from.speedMps);
  return from.stepRateSpm * (to.stepRateSpm / from.stepRateSpm) ** share;
}

function scaled(stepRateSpm: number, band: FieldTarget, speedMps: number): number {
  return stepRateSpm * (speedMps / band.speedMps) ** band.exponent;
}

/** The band's edges at a speed. */
export function bandAt(target: FieldTarget, speedMps: number): Interval {
  return { low: scaled(target.lowSpm, target, speedMps), high: scaled(target.highSpm, target, speedMps) };
}

function layoutGap(
  gap: FieldGap,
  before: FieldSide,
  x: (v: number) => number,
  y: (f: number) => number,
  box: Box,
): NonNullable<FieldLayout["gap"]> {
  const from = along(before.line, gap.speedMps);
  const at = x(gap.speedMps);
  const clampY = (value: number): number => Math.min(box.bottom, Math.max(box.top, value));
  const half = FLAG_PX / 2;
  const flagX = Math.min(box.right + 50 - half, Math.max(CAPTION_PX + half, at));
  return {
    x: at,
    fromY: y(from),
    toY: y(from + gap.changeSpm),
    lowY: clampY(y(from + gap.interval95.low)),
    highY: clampY(y(from + gap.interval95.high)),
    flagX,
    ruleX1: Math.min(at, flagX - half),
    ruleX2: Math.max(at, flagX + half),
  };
}

function extent(data: FieldData): { speeds: Interval; rates: Interval } {
  const speeds: number[] = [];
  const rates: number[] = [];
  for (const side of [data.before, data.after]) {
    for (const point of side ? [...side.line, ...side.runs, ...side.minutes] : []) {
      speeds.push(point.speedMps);
      rates.push(point.stepRateSpm);
    }
  }
  if (data.gap && data.before) {
    const from = along(data.before.line, data.gap.speedMps);
    speeds.push(data.gap.speedMps);
    rates.push(from + data.gap.changeSpm);
  }
  if (data.target) {
    if (speeds.length === 0) speeds.push(data.target.speedMps);
    const low = Math.min(...speeds);
    const high = Math.max(...speeds);
    rates.push(bandAt(data.target, low).low, bandAt(data.target, high).high);
  }
  if (speeds.length === 0) return { speeds: { low: 2.4, high: 3.2 }, rates: { low: 150, high: 180 } };
  return {
    speeds: { low: Math.min(...speeds), high: Math.max(...speeds) },
    rates: { low: Math.min(...rates), high: Math.max(...rates) },
  };
}

/** Widens a range by a share at each end, and to at least `minimum` in all. */
function padded(low: number, high: number, share: number, minimum: number): [number, number] {
  const missing = Math.max(0, minimum - (high - low)) / 2;
  const room = (high - low) * share;
  return [low - missing - room, high + missing + room];
}

/** The band is drawn over the speeds that were run, and no further. */
function spanOfTarget(data: FieldData, lowMps: number, highMps: number): Interval {
  const speeds = [data.before, data.after].flatMap((side) => side?.line.map((point) => point.speedMps) ?? []);
  if (speeds.length === 0) return { low: lowMps, high: highMps };
  return { low: Math.min(...speeds), high: Math.max(...speeds) };
}

function linePath(line: readonly FieldPoint[], x: (v: number) => number, y: (f: number) => number): string | undefined {
  if (line.length < 2) return undefined;
  return `M${line.map((point) => `${px(x(point.speedMps))},${px(y(point.stepRateSpm))}`).join("L")}`;
}

const BAND_PIECES = 16;

function bandPath(target: FieldTarget, span: Interval, x: (v: number) => number, y: (f: number) => number): string {
  const speeds = Array.from(
    { length: BAND_PIECES + 1 },
    (_, i) => span.low + ((span.high - span.low) * i) / BAND_PIECES,
  );
  const upper = speeds.map((v) => `${px(x(v))},${px(y(bandAt(target, v).high))}`);
  const lower = speeds.toReversed().map((v) => `${px(x(v))},${px(y(bandAt(target, v).low))}`);
  return `M${[...upper, ...lower].join("L")}Z`;
}

export function px(value: number): number {
  return Math.round(value * 10) / 10;
}
