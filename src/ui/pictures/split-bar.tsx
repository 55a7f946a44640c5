// A speed change drawn as its two parts: step rate (filled) and step length (open), end to end, so that the end of the second is the speed.
import { useId } from "react";
import { px } from "./before-after-layout.ts";

/** ln(v2/v1) = ln(f2/f1) + ln(L2/L1), exact. */
export interface SplitData {
  readonly lnSpeed: number;
  readonly lnStepRate: number;
  readonly lnStepLength: number;
}

export interface SplitLayout {
  readonly zeroX: number;
  readonly rate: { readonly x: number; readonly width: number };
  readonly length: { readonly x: number; readonly width: number };
  readonly rateEndX: number;
  readonly speedX: number;
}

const HEIGHT = 36;
const EDGE = 6;

/** The range that a list of bars shares, so that they can be compared by eye: symmetric, at least ±3 %. */
export function splitDomain(splits: readonly SplitData[]): number {
  const reach = splits.flatMap((split) => [split.lnStepRate, split.lnSpeed].map((value) => Math.abs(value)));
  return Math.max(0.03, ...reach);
}

export function layoutSplit(split: SplitData, width: number, domain: number): SplitLayout {
  const zeroX = width / 2;
  const x = (ln: number): number => zeroX + (ln / domain) * (width / 2 - EDGE);
  const bar = (from: number, to: number): { x: number; width: number } => ({
    x: Math.min(x(from), x(to)),
    width: Math.abs(x(to) - x(from)),
  });
  return {
    zeroX,
    rate: bar(0, split.lnStepRate),
    length: bar(split.lnStepRate, split.lnStepRate + split.lnStepLength),
    rateEndX: x(split.lnStepRate),
    speedX: x(split.lnSpeed),
  };
}

export interface SplitBarProps {
  readonly split: SplitData;
  readonly width: number;
  readonly domain: number;
  /** "Speed +0.3 %: step rate +4.2 %, step length −3.9 %" */
  readonly description: string;
}

export function SplitBar({ split, width, domain, description }: SplitBarProps) {
  const id = useId();
  const bar = layoutSplit(split, width, domain);
  return (
    <svg
      className="picture split"
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-labelledby={id}
    >
      <title id={id}>{description}</title>
      <line className="p-axis" x1={bar.zeroX} x2={bar.zeroX} y1={1} y2={HEIGHT - 1} />
      <rect className="p-split-rate" x={px(bar.rate.x)} y={4} width={px(Math.max(bar.rate.width, 0.6))} height={11} />
      <path className="p-split-join" d={`M${px(bar.rateEndX)},15V19`} />
      <rect
        className="p-split-length"
        x={px(bar.length.x)}
        y={19}
        width={px(Math.max(bar.length.width, 0.6))}
        height={11}
      />
      <path className="p-split-speed" d={`M${px(bar.speedX)},1V${HEIGHT - 1}`} />
      <path className="p-split-head" d={`M${px(bar.speedX)},${HEIGHT - 7}l4,6h-8z`} />
    </svg>
  );
}
