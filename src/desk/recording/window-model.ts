// What windows say about a recording: why parts were left out, and stretches of one kind joined for drawing.
import type { CallOutput } from "../../api/index.ts";

export type Window = CallOutput<"GET /api/runners/:runnerId/recordings/:recordingId">["windows"][number];

export interface LeftOut {
  readonly reason: string;
  readonly count: number;
  /** Wall time that the reason covers; overlapping windows are not counted twice. */
  readonly seconds: number;
}

export function leftOut(windows: readonly Window[]): readonly LeftOut[] {
  const byReason = new Map<string, Window[]>();
  for (const window of windows)
    if (window.reason !== undefined && window.reason !== "")
      byReason.set(window.reason, [...(byReason.get(window.reason) ?? []), window]);
  return [...byReason]
    .map(([reason, some]) => ({
      reason,
      count: some.length,
      seconds: joined(some).reduce((sum, span) => sum + span.endS - span.startS, 0),
    }))
    .toSorted((a, b) => b.seconds - a.seconds);
}

export interface Span {
  readonly startS: number;
  readonly endS: number;
}

/** Windows as the fewest stretches that cover them; touching ones become one. */
export function joined(windows: readonly Span[]): readonly Span[] {
  const spans: { startS: number; endS: number }[] = [];
  for (const window of windows.toSorted((a, b) => a.startS - b.startS)) {
    const last = spans.at(-1);
    if (last && window.startS <= last.endS + 0.001) last.endS = Math.max(last.endS, window.endS);
    else spans.push({ startS: window.startS, endS: window.endS });
  }
  return spans;
}

/** Stretches in which the runner stood or walked. */
export function stops(windows: readonly Window[]): readonly Span[] {
  return joined(windows.filter((window) => window.state === "standing" || window.state === "walking"));
}

/** Running, but not used: a reason is given. */
export function unused(windows: readonly Window[]): readonly Span[] {
  return joined(
    windows.filter(
      (window) => window.state !== "standing" && window.state !== "walking" && window.reason !== undefined,
    ),
  );
}
