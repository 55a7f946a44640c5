// Step rate over speed, before and after. A runner who only ran faster slides along the old line; one who changed has lifted off it.
import { useId } from "react";
import { type Format, intervalDigits } from "../words/format.ts";
import { along, type FieldData, type FieldPoint, type FieldSide, layoutField, px } from "./before-after-layout.ts";

interface BeforeAfterWords {
  readonly title: string;
  readonly before: string;
  readonly after: string;
  readonly target: string;
  /** Axis captions. */
  readonly stepRate: string;
  readonly speed: string;
  readonly faster: string;
  /** "95 % sure: 4 to 10" */
  readonly interval: (low: string, high: string) => string;
}

export interface BeforeAfterProps {
  readonly data: FieldData;
  readonly width: number;
  readonly format: Format;
  readonly words: BeforeAfterWords;
  /** The picture in a sentence or two; read out in its place. */
  readonly description: string;
}

export function BeforeAfterField({ data, width, format, words, description }: BeforeAfterProps) {
  const id = useId();
  const field = layoutField(data, width, format.reading);
  const { box } = field;
  const digits = data.gap && intervalDigits(data.gap.interval95.low, data.gap.interval95.high);
  return (
    <svg
      className="picture field"
      width={field.width}
      height={field.height}
      viewBox={`0 0 ${field.width} ${field.height}`}
      role="img"
      aria-labelledby={`${id}t ${id}d`}
    >
      <title id={`${id}t`}>{words.title}</title>
      <desc id={`${id}d`}>{description}</desc>
      <g aria-hidden="true">
        {field.rateTicks.map((tick) => (
          <g key={tick.value}>
            <line className="p-hair" x1={box.left} x2={box.right} y1={px(tick.position)} y2={px(tick.position)} />
            <text className="p-tick" x={box.left - 7} y={px(tick.position + 4)} textAnchor="end">
              {format.number(tick.value, Number.isInteger(tick.value) ? 0 : 1)}
            </text>
          </g>
        ))}
        <text className="p-tick" x={2} y={data.gap ? box.top - 12 : 12}>
          {words.stepRate}
        </text>
        {field.targetPath && <path className="p-target" d={field.targetPath} />}
        <line className="p-axis" x1={box.left} x2={box.right} y1={box.bottom} y2={box.bottom} />
        {field.speedTicks.map((tick) => (
          <g key={tick.value}>
            <line
              className="p-axis"
              x1={px(tick.position)}
              x2={px(tick.position)}
              y1={box.bottom}
              y2={box.bottom + 5}
            />
            <text className="p-tick" x={px(tick.position)} y={box.bottom + 18} textAnchor="middle">
              {format.speedValue(tick.value)}
            </text>
          </g>
        ))}
        <text className="p-tick" x={box.right} y={field.height - 5} textAnchor="end">
          {`${words.speed} → ${words.faster}`}
        </text>
        {field.gap && <line className="p-mast" x1={px(field.gap.x)} x2={px(field.gap.x)} y1={43} y2={box.bottom + 5} />}
        <Points points={data.before?.minutes} field={field} className="p-minute-before" radius={1.8} />
        <Points points={data.after?.minutes} field={field} className="p-minute-after" radius={1.8} />
        {field.beforePath && <path className="p-line-before" d={field.beforePath} />}
        {field.afterPath && <path className="p-line-after" d={field.afterPath} />}
        <Points points={data.before?.runs} field={field} className="p-point-before" radius={4.5} />
        <Points points={data.after?.runs} field={field} className="p-point-after" radius={4.5} />
        {field.labels.map((label) => (
          <g key={label.name}>
            <path
              className={`p-lead p-lead-${label.name}`}
              d={`M${px(label.x + 3)},${px(label.fromY)}L${px(Math.max(label.x + 3, box.right - 6))},${px(label.fromY)}L${px(box.right + 2)},${px(label.y)}`}
            />
            <text className={`p-label p-label-${label.name}`} x={box.right + 6} y={px(label.y + 4.5)}>
              {words[label.name]}
            </text>
          </g>
        ))}
        {field.gap && data.gap && data.before && (
          <Gap
            gap={field.gap}
            axisY={box.bottom + 18}
            number={format.rateChange(data.gap.changeSpm, digits)}
            interval={words.interval(
              format.rateChangeValue(data.gap.interval95.low, digits),
              format.rateChangeValue(data.gap.interval95.high, digits),
            )}
            reference={format.speedValue(data.gap.speedMps)}
          />
        )}
      </g>
    </svg>
  );
}

interface PointsProps {
  readonly points: readonly FieldPoint[] | undefined;
  readonly field: ReturnType<typeof layoutField>;
  readonly className: string;
  readonly radius: number;
}

function Points({ points = [], field, className, radius }: PointsProps) {
  return points.map((point, i) => (
    <circle
      className={className}
      // Points have no identity of their own; their order never changes within one answer.
      // oxlint-disable-next-line react/no-array-index-key
      key={i}
      r={radius}
      cx={px(field.x(point.speedMps))}
      cy={px(field.y(point.stepRateSpm))}
    />
  ));
}

interface GapProps {
  readonly gap: NonNullable<ReturnType<typeof layoutField>["gap"]>;
  readonly axisY: number;
  readonly number: string;
  readonly interval: string;
  readonly reference: string;
}

/** The change at the reference speed: a heavy stroke from line to line, its interval as a light bracket, its number on a flag above. */
function Gap({ gap, axisY, number, interval, reference }: GapProps) {
  const bracketX = gap.x + 7;
  return (
    <g>
      <line className="p-gap" x1={px(gap.x)} x2={px(gap.x)} y1={px(gap.fromY)} y2={px(gap.toY)} />
      <path
        className="p-bracket"
        d={`M${px(bracketX - 3)},${px(gap.lowY)}h6M${px(bracketX)},${px(gap.lowY)}V${px(gap.highY)}M${px(bracketX - 3)},${px(gap.highY)}h6`}
      />
      <text className="p-flag" x={px(gap.flagX)} y={19} textAnchor="middle">
        {number}
      </text>
      <text className="p-flag-small" x={px(gap.flagX)} y={36} textAnchor="middle">
        {interval}
      </text>
      <line className="p-rule" x1={px(gap.ruleX1)} x2={px(gap.ruleX2)} y1={43} y2={43} />
      <text className="p-tick p-strong" x={px(gap.x)} y={axisY} textAnchor="middle">
        {reference}
      </text>
    </g>
  );
}

/** The field in numbers, for the table under it: each side's step rate at a few round speeds both sides ran. */
export function fieldRows(
  data: FieldData,
  speedsMps: readonly number[],
): readonly { readonly speedMps: number; readonly beforeSpm?: number; readonly afterSpm?: number }[] {
  return speedsMps.map((speedMps) => ({
    speedMps,
    ...(data.before && inside(data.before, speedMps) ? { beforeSpm: along(data.before.line, speedMps) } : {}),
    ...(data.after && inside(data.after, speedMps) ? { afterSpm: along(data.after.line, speedMps) } : {}),
  }));
}

function inside(side: FieldSide, speedMps: number): boolean {
  const [first, last] = [side.line[0], side.line.at(-1)];
  return (
    first !== undefined && last !== undefined && speedMps >= first.speedMps - 1e-9 && speedMps <= last.speedMps + 1e-9
  );
}
