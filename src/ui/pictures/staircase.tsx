// The plan as a staircase: one tread per stage, done, here, ahead.
import { useId } from "react";
import { px } from "./before-after-layout.ts";

export interface Stair {
  readonly stepRateSpm: number;
  /** Under the tread: "wk 2", "12 Mar". */
  readonly label: string;
  readonly state: "done" | "here" | "ahead";
}

export interface StaircaseLayout {
  readonly height: number;
  readonly treads: readonly {
    readonly x1: number;
    readonly x2: number;
    readonly y: number;
    readonly showLabel: boolean;
  }[];
}

const TOP = 26;
const BOTTOM = 24;

/** Treads of equal width; heights in proportion to step rate; labels thinned until they have room. */
export function layoutStairs(stairs: readonly Stair[], width: number): StaircaseLayout {
  const height = Math.round(Math.min(170, Math.max(112, width * 0.24)));
  const rates = stairs.map((stair) => stair.stepRateSpm);
  const low = Math.min(...rates);
  const span = Math.max(1, Math.max(...rates) - low);
  const floor = height - BOTTOM - 6;
  const y = (rate: number): number => floor - ((rate - low) / span) * (floor - TOP);
  const tread = width / Math.max(1, stairs.length);
  const every = Math.max(1, Math.ceil(40 / tread));
  const hereIndex = stairs.findIndex((stair) => stair.state === "here");
  return {
    height,
    treads: stairs.map((stair, i) => ({
      x1: i * tread,
      x2: (i + 1) * tread,
      y: y(stair.stepRateSpm),
      showLabel: labelled(i, stairs.length, every, hereIndex),
    })),
  };
}

/** The tread where the runner is always has its label; others keep their distance from it and from each other. */
function labelled(i: number, count: number, every: number, hereIndex: number): boolean {
  if (every === 1 || i === hereIndex) return true;
  if (hereIndex >= 0 && Math.abs(i - hereIndex) < every) return false;
  return i === 0 || (i % every === 0 && count - i >= 1);
}

export interface StaircaseProps {
  readonly stairs: readonly Stair[];
  readonly width: number;
  readonly rateText: (stepRateSpm: number) => string;
  readonly title: string;
  readonly description: string;
  readonly hereWord: string;
}

export function Staircase({ stairs, width, rateText, title, description, hereWord }: StaircaseProps) {
  const id = useId();
  const layout = layoutStairs(stairs, width);
  const hereIndex = stairs.findIndex((stair) => stair.state === "here");
  const walked = stairPath(layout, 0, hereIndex < 0 ? firstAhead(stairs) : hereIndex + 1);
  const coming = stairPath(layout, hereIndex < 0 ? firstAhead(stairs) : hereIndex + 1, stairs.length);
  return (
    <svg
      className="picture stairs"
      width={width}
      height={layout.height}
      viewBox={`0 0 ${width} ${layout.height}`}
      role="img"
      aria-labelledby={`${id}t ${id}d`}
    >
      <title id={`${id}t`}>{title}</title>
      <desc id={`${id}d`}>{description}</desc>
      <g aria-hidden="true">
        {coming && <path className="p-stair-ahead" d={coming} />}
        {walked && <path className="p-stair" d={walked} />}
        {layout.treads.map((tread, i) => {
          const stair = stairs[i];
          if (!stair) return null;
          const middle = (tread.x1 + tread.x2) / 2;
          const here = stair.state === "here";
          return (
            <g key={`${stair.label}-${tread.x1}`}>
              {here && (
                <rect
                  className="p-stair-here"
                  x={px(tread.x1)}
                  y={px(tread.y - 2.5)}
                  width={px(tread.x2 - tread.x1)}
                  height={5}
                />
              )}
              {tread.showLabel && (
                <>
                  <text
                    className={here ? "p-label p-strong p-plum" : "p-label p-muted"}
                    x={px(middle)}
                    y={px(tread.y - 8)}
                    textAnchor="middle"
                  >
                    {rateText(stair.stepRateSpm)}
                  </text>
                  <text
                    className={here ? "p-tick p-strong" : "p-tick"}
                    x={px(middle)}
                    y={layout.height - 6}
                    textAnchor="middle"
                  >
                    {here && tread.x2 - tread.x1 > 84 ? `${stair.label}, ${hereWord}` : stair.label}
                  </text>
                </>
              )}
            </g>
          );
        })}
      </g>
    </svg>
  );
}

function firstAhead(stairs: readonly Stair[]): number {
  const index = stairs.findIndex((stair) => stair.state === "ahead");
  return index < 0 ? stairs.length : index;
}

function stairPath(layout: StaircaseLayout, from: number, to: number): string | undefined {
  const treads = layout.treads.slice(from, to);
  if (treads.length === 0) return undefined;
  const before = layout.treads[from - 1];
  const start = before ? `M${px(before.x2)},${px(before.y)}V` : undefined;
  return treads
    .map((tread, i) =>
      i === 0
        ? `${start === undefined ? `M${px(tread.x1)},${px(tread.y)}` : `${start}${px(tread.y)}`}H${px(tread.x2)}`
        : `V${px(tread.y)}H${px(tread.x2)}`,
    )
    .join("");
}
