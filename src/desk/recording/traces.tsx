// Traces one above the other on one time axis. Drag to look closer; the keyboard has buttons for the same.
import { useEffect, useMemo, useRef, useState } from "react";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { rateForFeet } from "../../engine/quantities/feet.ts";
import { formatMinutesSeconds, paceSPerKm, paceSPerMile } from "../../engine/quantities/units.ts";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { useTheme } from "../shell/theme.ts";
import { recordingWords, tracesWords } from "../strings/recording.ts";
import type { RecordingDetail } from "./detail.ts";
import { listenToGestures, type TraceView } from "./trace-gestures.ts";
import { pannedRange, type TraceRange, zoomedRange } from "./trace-range.ts";
import { stops, unused } from "./window-model.ts";

interface TraceLine {
  readonly key: string;
  readonly name: string;
  readonly values: readonly (number | null)[];
  readonly text: (value: number) => string;
  /** A pace axis runs the other way: faster is up. */
  readonly upsideDown?: boolean;
  /** Ticks at whole numbers only. */
  readonly whole?: boolean;
}

export function Traces({ detail, format }: { readonly detail: RecordingDetail; readonly format: Format }) {
  const lines = useMemo(() => traceLines(detail, format), [detail, format]);
  const { timeS } = detail.trace;
  const first = timeS[0] ?? 0;
  const last = timeS.at(-1) ?? 1;
  const whole = useMemo((): TraceRange => [first, last], [first, last]);
  const [range, setRange] = useState<TraceRange>(whole);
  const [from, to] = range;
  const plots = useRef<HTMLDivElement>(null);
  const seen = useRef(range);
  useEffect(() => {
    seen.current = range;
  }, [range]);
  useEffect(() => {
    const element = plots.current;
    if (!element) return undefined;
    const view = (): TraceView | undefined => {
      const box = element.querySelector(".u-over")?.getBoundingClientRect();
      return box && { range: seen.current, whole, leftPx: box.left, widthPx: box.width };
    };
    return listenToGestures(element, view, setRange);
  }, [whole]);
  const zoom = (factor: number): void => setRange(zoomedRange(range, whole, factor, (from + to) / 2));
  const pan = (share: number): void => setRange(pannedRange(range, whole, (to - from) * share));
  return (
    <section aria-labelledby="traces">
      <h2 className="section-head" id="traces">
        {recordingWords.traces}
      </h2>
      <p className="muted small">{recordingWords.tracesHint}</p>
      <fieldset className="row group no-print" aria-label={recordingWords.traces}>
        <Button onClick={() => pan(-0.5)} aria-label={tracesWords.earlier} disabled={from <= first}>
          ←
        </Button>
        <Button onClick={() => zoom(0.5)}>{tracesWords.closer}</Button>
        <Button onClick={() => zoom(2)} disabled={from <= first && to >= last}>
          {tracesWords.further}
        </Button>
        <Button onClick={() => setRange(whole)} disabled={from <= first && to >= last}>
          {tracesWords.whole}
        </Button>
        <Button onClick={() => pan(0.5)} aria-label={tracesWords.later} disabled={to >= last}>
          →
        </Button>
        <output className="muted">
          {formatMinutesSeconds(from)}–{formatMinutesSeconds(to)}
        </output>
      </fieldset>
      <div ref={plots} className="traces">
        {lines.map((line, i) => (
          <TracePlot
            key={line.key}
            line={line}
            detail={detail}
            range={range}
            onRange={setRange}
            withTimes={i === lines.length - 1}
          />
        ))}
      </div>
    </section>
  );
}

function traceLines(detail: RecordingDetail, format: Format): readonly TraceLine[] {
  const { trace } = detail;
  const names = recordingWords.names;
  const { feet, speed } = format.reading;
  const pace = speed === "min-per-mile" ? paceSPerMile : paceSPerKm;
  const lines: readonly TraceLine[] = [
    {
      key: "rate",
      name: `${names.stepRate}, ${format.rateUnit}`,
      values: trace.stepRateSpm.map((value) => (value === null ? null : rateForFeet(value, feet))),
      text: (value) => format.number(value, 0),
      whole: true,
    },
    {
      key: "speed",
      name: `${names.speed}, ${format.speedUnit}`,
      // Standing has no pace.
      values: trace.speedMps.map((value) => (value === null || value < SLOWEST_MPS ? null : pace(value))),
      text: formatMinutesSeconds,
      upsideDown: true,
    },
    { key: "length", name: names.stepLength, values: trace.stepLengthM, text: (value) => format.length(value) },
    {
      key: "slope",
      name: names.slope,
      values: trace.slope.map((value) => (value === null ? null : value * 100)),
      text: (value) => format.number(value, 0),
    },
    { key: "heart", name: names.heartRate, values: trace.heartRateBpm, text: (value) => format.number(value, 0) },
  ];
  return lines.filter((line) => line.values.some((value) => value !== null));
}

const SLOWEST_MPS = 1;
const HEIGHT_PX = 118;
const AXIS_PX = 26;
const WHOLE_INCREMENTS = [1, 2, 5, 10, 20, 50, 100];
const PACE_INCREMENTS_S = [5, 10, 15, 30, 60, 120, 300, 600];

interface TracePlotProps {
  readonly line: TraceLine;
  readonly detail: RecordingDetail;
  readonly range: TraceRange;
  readonly onRange: (range: TraceRange) => void;
  /** Only the lowest plot carries the times that all share. */
  readonly withTimes: boolean;
}

function TracePlot({ line, detail, range, onRange, withTimes }: TracePlotProps) {
  const holder = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot>(undefined);
  const theme = useTheme();
  const report = useRef(onRange);
  useEffect(() => {
    report.current = onRange;
  }, [onRange]);
  useEffect(() => {
    const element = holder.current;
    if (!element) return undefined;
    const heightPx = HEIGHT_PX + (withTimes ? AXIS_PX : 0);
    const made = new uPlot(
      plotOptions(element, line, detail, withTimes, (next) => report.current(next)),
      [detail.trace.timeS, line.values as (number | null)[]],
      element,
    );
    plot.current = made;
    const observer = new ResizeObserver(() => made.setSize({ width: element.clientWidth, height: heightPx }));
    observer.observe(element);
    const dark = matchMedia("(prefers-color-scheme: dark)");
    const redraw = (): void => made.redraw(false);
    dark.addEventListener("change", redraw);
    return () => {
      dark.removeEventListener("change", redraw);
      observer.disconnect();
      made.destroy();
      plot.current = undefined;
    };
  }, [line, detail, theme, withTimes]);
  useEffect(() => {
    plot.current?.setScale("x", { min: range[0], max: range[1] });
  }, [range]);
  return (
    <figure className="trace">
      <figcaption>
        {line.name} <span className="visually-hidden">{traceSummary(line)}</span>
      </figcaption>
      <div ref={holder} className="trace-plot" aria-hidden="true" />
    </figure>
  );
}

/** Least, median and most, for those who do not see the line. */
function traceSummary(line: TraceLine): string {
  const values = line.values.filter((value) => value !== null).toSorted((a, b) => a - b);
  const at = (share: number): string => line.text(values[Math.floor(share * (values.length - 1))] ?? 0);
  return tracesWords.summary(at(0.05), at(0.5), at(0.95));
}

function plotOptions(
  element: HTMLElement,
  line: TraceLine,
  detail: RecordingDetail,
  withTimes: boolean,
  onRange: (range: TraceRange) => void,
): uPlot.Options {
  const colour = (name: string) => (): string => getComputedStyle(element).getPropertyValue(name).trim();
  const font = `12px ${getComputedStyle(element).fontFamily}`;
  return {
    width: element.clientWidth,
    height: HEIGHT_PX + (withTimes ? AXIS_PX : 0),
    padding: [6, 22, withTimes ? 0 : 8, 0],
    legend: { show: false },
    cursor: {
      sync: { key: "traces", scales: ["x", null] },
      drag: { x: true, y: false, setScale: false },
      points: { size: 6 },
    },
    scales: {
      x: { time: false },
      y: { range: (_, low, high) => paddedRange(low, high), ...(line.upsideDown === true ? { dir: -1 as const } : {}) },
    },
    axes: [
      {
        show: withTimes,
        stroke: colour("--muted"),
        font,
        grid: { show: false },
        ticks: { stroke: colour("--edge"), width: 1, size: 4 },
        values: (_, ticks) => ticks.map(formatMinutesSeconds),
        incrs: [10, 30, 60, 120, 300, 600, 900, 1800, 3600],
        space: 64,
        size: AXIS_PX,
      },
      {
        stroke: colour("--muted"),
        font,
        grid: { stroke: colour("--hair"), width: 1 },
        ticks: { show: false },
        values: (_, ticks) => ticks.map(line.text),
        space: 28,
        size: 62,
        ...(line.upsideDown === true
          ? { incrs: PACE_INCREMENTS_S }
          : line.whole === true
            ? { incrs: WHOLE_INCREMENTS }
            : {}),
      },
    ],
    series: [{}, { stroke: colour("--ink"), width: 1.4, spanGaps: false, points: { show: false } }],
    hooks: {
      drawClear: [(plot) => drawBands(plot, detail, colour)],
      setSelect: [
        (plot) => {
          const { left, width } = plot.select;
          if (width < 6) return;
          onRange([plot.posToVal(left, "x"), plot.posToVal(left + width, "x")]);
          plot.setSelect({ left: 0, width: 0, top: 0, height: 0 }, false);
        },
      ],
      ready: [
        (plot) => {
          const { timeS } = detail.trace;
          plot.over.addEventListener("dblclick", () => onRange([timeS[0] ?? 0, timeS.at(-1) ?? 1]));
        },
      ],
    },
  };
}

function paddedRange(low: number | null, high: number | null): [number, number] {
  if (low === null || high === null) return [0, 1];
  const room = Math.max((high - low) * 0.08, 0.5);
  return [low - room, high + room];
}

/** Under the line: beat on in the tint, stops in grey, what was trimmed or not used hatched. */
function drawBands(plot: uPlot, detail: RecordingDetail, colour: (name: string) => () => string): void {
  const { ctx, bbox } = plot;
  const { recording, windows, trace } = detail;
  const x = (timeS: number): number =>
    Math.min(bbox.left + bbox.width, Math.max(bbox.left, plot.valToPos(timeS, "x", true)));
  const fill = (startS: number, endS: number): void =>
    ctx.fillRect(x(startS), bbox.top, x(endS) - x(startS), bbox.height);
  ctx.save();
  ctx.fillStyle = colour("--tint")();
  for (const block of recording.cueBlocks) if (block.cue === "on") fill(block.startS, block.endS);
  ctx.fillStyle = colour("--hair")();
  for (const span of stops(windows)) fill(span.startS, span.endS);
  ctx.strokeStyle = colour("--edge")();
  ctx.lineWidth = 1;
  const endS = trace.timeS.at(-1) ?? 0;
  const trimmed = [
    { startS: trace.timeS[0] ?? 0, endS: recording.trimStartS },
    { startS: recording.trimEndS ?? endS, endS },
  ].filter((span) => span.endS > span.startS);
  for (const span of [...trimmed, ...unused(windows)]) hatch(ctx, x(span.startS), x(span.endS), bbox.top, bbox.height);
  ctx.restore();
}

function hatch(ctx: CanvasRenderingContext2D, left: number, right: number, top: number, height: number): void {
  if (right - left < 1) return;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, right - left, height);
  ctx.clip();
  ctx.globalAlpha = 0.5;
  ctx.beginPath();
  for (let at = left - height; at < right; at += 9) {
    ctx.moveTo(at, top + height);
    ctx.lineTo(at + height, top);
  }
  ctx.stroke();
  ctx.restore();
}
