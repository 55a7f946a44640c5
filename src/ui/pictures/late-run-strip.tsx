// One run from start to end with speed and slope taken out: did the step rate hold in the last third?
import { useId } from "react";
import { scaleLinear } from "d3-scale";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import { px } from "./before-after-layout.ts";
import { linearTicks } from "./ticks.ts";

export interface LateRunData {
  /** Seconds into the steady part; step rate with speed and slope accounted for. */
  readonly points: readonly { readonly timeS: number; readonly adjustedSpm: number }[];
  /** Level of the first and of the last third. */
  readonly firstThirdSpm: number;
  readonly lastThirdSpm: number;
}

export interface LateRunStripProps {
  readonly data: LateRunData;
  readonly width: number;
  readonly rateText: (stepRateSpm: number) => string;
  readonly minutesText: (minutes: number) => string;
  readonly title: string;
  readonly description: string;
}

const HEIGHT = 132;

export function LateRunStrip({ data, width, rateText, minutesText, title, description }: LateRunStripProps) {
  const id = useId();
  const box = { left: 36, right: width - 40, top: 12, bottom: HEIGHT - 26 };
  const times = data.points.map((point) => point.timeS);
  const rates = [...data.points.map((point) => point.adjustedSpm), data.firstThirdSpm, data.lastThirdSpm];
  const startS = Math.min(...times);
  const endS = Math.max(...times);
  const middle = (Math.min(...rates) + Math.max(...rates)) / 2;
  const half = Math.max(4, (Math.max(...rates) - Math.min(...rates)) / 2 + 1);
  const x = scaleLinear().domain([startS, endS]).range([box.left, box.right]);
  const y = scaleLinear()
    .domain([middle - half, middle + half])
    .range([box.bottom, box.top]);
  const third = (endS - startS) / 3;
  const minutes = linearTicks(
    startS / SECONDS_PER_MINUTE,
    endS / SECONDS_PER_MINUTE,
    (minute) => x(minute * SECONDS_PER_MINUTE),
    52,
  );
  return (
    <svg
      className="picture late"
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-labelledby={`${id}t ${id}d`}
    >
      <title id={`${id}t`}>{title}</title>
      <desc id={`${id}d`}>{description}</desc>
      <g aria-hidden="true">
        {linearTicks(middle - half, middle + half, (v) => y(v), 28).map((tick) => (
          <g key={tick.value}>
            <line className="p-hair" x1={box.left} x2={box.right} y1={px(tick.position)} y2={px(tick.position)} />
            <text className="p-tick" x={box.left - 7} y={px(tick.position + 4)} textAnchor="end">
              {rateText(tick.value)}
            </text>
          </g>
        ))}
        <line className="p-axis" x1={box.left} x2={box.right} y1={box.bottom} y2={box.bottom} />
        {minutes.map((tick) => (
          <text key={tick.value} className="p-tick" x={px(tick.position)} y={HEIGHT - 8} textAnchor="middle">
            {minutesText(tick.value)}
          </text>
        ))}
        {data.points.map((point) => (
          <circle
            key={point.timeS}
            className="p-point-quiet"
            r={2}
            cx={px(x(point.timeS))}
            cy={px(y(point.adjustedSpm))}
          />
        ))}
        <line
          className="p-line-before"
          x1={px(x(startS))}
          x2={px(x(startS + third))}
          y1={px(y(data.firstThirdSpm))}
          y2={px(y(data.firstThirdSpm))}
        />
        <line
          className="p-line-after"
          x1={px(x(endS - third))}
          x2={px(x(endS))}
          y1={px(y(data.lastThirdSpm))}
          y2={px(y(data.lastThirdSpm))}
        />
        <text className="p-label p-plum" x={box.right + 6} y={px(y(data.lastThirdSpm) + 4.5)}>
          {rateText(data.lastThirdSpm)}
        </text>
      </g>
    </svg>
  );
}
