// Step rate over the run: a dot every few seconds, the target as a line, and below it where the beat was on.
import { useFormat } from "../app/use-phone.tsx";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import type { RunPictureData } from "./picture-data.ts";

const WIDTH = 340;
const HEIGHT = 190;
const BOX = { left: 34, right: WIDTH - 6, top: 10, bottom: HEIGHT - 44 };
const MOST_POINTS = 300;

export function RunPicture({
  data,
  targetSpm,
}: {
  readonly data: RunPictureData;
  readonly targetSpm: number | undefined;
}) {
  const format = useFormat();
  const every = Math.max(1, Math.ceil(data.points.length / MOST_POINTS));
  const points = data.points.filter((_, index) => index % every === 0);
  const rates = points.map((point) => point.stepRateSpm).toSorted((a, b) => a - b);
  const at = (share: number): number => rates[Math.round(share * (rates.length - 1))] ?? 0;
  // The middle 98 %: one stumble must not flatten the rest.
  const lowest = Math.min(at(0.01), targetSpm ?? Infinity);
  const highest = Math.max(at(0.99), targetSpm ?? 0);
  const low = Math.floor((lowest - 2) / 5) * 5;
  const high = Math.ceil((highest + 2) / 5) * 5;
  const x = (timeS: number): number => BOX.left + ((BOX.right - BOX.left) * timeS) / Math.max(1, data.durationS);
  const y = (spm: number): number => BOX.bottom - ((BOX.bottom - BOX.top) * (spm - low)) / (high - low);
  const rows = Math.max(5, Math.ceil((high - low) / 4 / 5) * 5);
  const ticks = Array.from({ length: Math.floor((high - low) / rows) + 1 }, (_, k) => low + k * rows);
  const minuteStep = [1, 2, 5, 10, 15, 30, 60].find((step) => data.durationS / SECONDS_PER_MINUTE / step <= 6) ?? 60;
  const minutes = Array.from(
    { length: Math.floor(data.durationS / SECONDS_PER_MINUTE / minuteStep) + 1 },
    (_, k) => k * minuteStep,
  );
  const short = data.durationS < 2 * SECONDS_PER_MINUTE;
  return (
    <svg
      className="picture run-picture"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={describe(data, format)}
    >
      {ticks.map((spm) => (
        <g key={spm}>
          <line className="p-hair" x1={BOX.left} x2={BOX.right} y1={y(spm)} y2={y(spm)} />
          <text className="p-tick" x={BOX.left - 6} y={y(spm) + 4} textAnchor="end">
            {format.rateValue(spm)}
          </text>
        </g>
      ))}
      {targetSpm === undefined ? null : (
        <line className="run-target" x1={BOX.left} x2={BOX.right} y1={y(targetSpm)} y2={y(targetSpm)} />
      )}
      {points.map((point) => (
        <circle
          key={point.timeS}
          className="run-dot"
          r="1.8"
          cx={x(point.timeS)}
          cy={Math.min(BOX.bottom, Math.max(BOX.top, y(point.stepRateSpm)))}
        />
      ))}
      {data.cues.map((cue) =>
        cue.cue === "on" ? (
          <rect
            key={cue.startS}
            className="run-cue"
            x={x(cue.startS)}
            y={BOX.bottom + 8}
            width={Math.max(1, x(cue.endS) - x(cue.startS))}
            height="6"
          />
        ) : null,
      )}
      {short
        ? null
        : minutes.map((minute) => (
            <text
              key={minute}
              className="p-tick"
              x={x(minute * SECONDS_PER_MINUTE)}
              y={HEIGHT - 12}
              textAnchor="middle"
            >
              {minute === 0 ? "" : `${minute} min`}
            </text>
          ))}
      <text className="p-tick" x={BOX.left} y={HEIGHT - 12}>
        {data.cues.some((cue) => cue.cue === "on") ? "bar: beat on" : ""}
      </text>
    </svg>
  );
}

function describe(data: RunPictureData, format: ReturnType<typeof useFormat>): string {
  const rates = data.points.map((point) => point.stepRateSpm);
  return `Step rate over ${format.duration(data.durationS)}, between ${format.rate(Math.round(Math.min(...rates)))} and ${format.rate(Math.round(Math.max(...rates)))}.`;
}
