// One row of a forest plot: an estimate with its interval on an axis that all rows share. Sits in a table cell; the table is the text.
import { px } from "./before-after-layout.ts";
import { linearTicks } from "./ticks.ts";

export interface ForestDomain {
  readonly low: number;
  readonly high: number;
}

export interface ForestMark {
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
}

/** The range all rows share: every interval and zero, rounded outwards to a whole spm. */
export function forestDomain(marks: readonly ForestMark[]): ForestDomain {
  return {
    low: Math.floor(Math.min(0, ...marks.map((mark) => mark.low))) - 1,
    high: Math.ceil(Math.max(0, ...marks.map((mark) => mark.high))) + 1,
  };
}

const EDGE = 12;

export function forestX(value: number, domain: ForestDomain, width: number): number {
  return EDGE + ((value - domain.low) / (domain.high - domain.low)) * (width - 2 * EDGE);
}

export interface ForestRowProps {
  readonly mark: ForestMark | undefined;
  readonly domain: ForestDomain;
  readonly width: number;
  /** Half-width of the band around zero that is too small to matter. */
  readonly smallestWorthwhile: number;
  readonly kind: "runner" | "group";
}

export function ForestRow({ mark, domain, width, smallestWorthwhile, kind }: ForestRowProps) {
  const height = 28;
  const x = (value: number): number => px(forestX(value, domain, width));
  const within = (value: number): number => Math.min(domain.high, Math.max(domain.low, value));
  const band = { from: x(within(-smallestWorthwhile)), to: x(within(smallestWorthwhile)) };
  const middle = height / 2;
  return (
    <svg className="picture forest" width={width} height={height} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      <rect className="p-target" x={band.from} width={px(band.to - band.from)} y={0} height={height} />
      <line className="p-axis" x1={x(0)} x2={x(0)} y1={0} y2={height} />
      {mark && kind === "runner" && (
        <>
          <line className="p-whisker" x1={x(mark.low)} x2={x(mark.high)} y1={middle} y2={middle} />
          <path className="p-whisker" d={`M${x(mark.low)},${middle - 4}v8M${x(mark.high)},${middle - 4}v8`} />
          <rect
            className={mark.low > 0 || mark.high < 0 ? "p-box" : "p-box p-box-open"}
            x={x(mark.estimate) - 4}
            y={middle - 4}
            width={8}
            height={8}
          />
        </>
      )}
      {mark && kind === "group" && (
        <path
          className="p-diamond"
          d={`M${x(mark.low)},${middle}L${x(mark.estimate)},${middle - 8}L${x(mark.high)},${middle}L${x(mark.estimate)},${middle + 8}Z`}
        />
      )}
    </svg>
  );
}

export function ForestAxis({
  domain,
  width,
  text,
}: {
  domain: ForestDomain;
  width: number;
  text: (value: number) => string;
}) {
  const ticks = linearTicks(domain.low, domain.high, (value) => forestX(value, domain, width), 36);
  return (
    <svg className="picture forest" width={width} height={22} viewBox={`0 0 ${width} 22`} aria-hidden="true">
      <line className="p-axis" x1={EDGE} x2={width - EDGE} y1={0.5} y2={0.5} />
      {ticks.map((tick) => (
        <g key={tick.value}>
          <line className="p-axis" x1={px(tick.position)} x2={px(tick.position)} y1={0} y2={4} />
          <text className="p-tick" x={px(tick.position)} y={17} textAnchor="middle">
            {text(tick.value)}
          </text>
        </g>
      ))}
    </svg>
  );
}
