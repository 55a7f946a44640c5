// The clip, one frame at a time: step by key, mark by key, click points on the body.
import { type KeyboardEvent, type MouseEvent, useRef, useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { videoWords as words } from "../strings/recording.ts";
import type { Point } from "./leg-geometry.ts";
import { type Mark, POINT_NAMES, toggleMark } from "./marks.ts";

interface PlayerProps {
  readonly address: string;
  readonly fileRateHz: number;
  readonly marks: readonly Mark[];
  readonly onMarks: (marks: readonly Mark[]) => void;
  readonly points: readonly Point[];
  readonly onPoints: (points: readonly Point[]) => void;
}

export function Player({ address, fileRateHz, marks, onMarks, points, onPoints }: PlayerProps) {
  const video = useRef<HTMLVideoElement>(null);
  const frameOf = useRef<HTMLElement>(null);
  const looksForEnd = useRef(false);
  const [frame, setFrame] = useState(0);
  const [size, setSize] = useState({ width: 16, height: 9 });
  const go = (to: number): void => {
    const element = video.current;
    if (!element) return;
    const last = Number.isFinite(element.duration) ? Math.floor(element.duration * fileRateHz) - 1 : to;
    const next = Math.max(0, Math.min(last, to));
    // The middle of a frame, so that rounding never shows its neighbour.
    element.currentTime = (next + 0.5) / fileRateHz;
    setFrame(next);
  };
  const mark = (kind: Mark["kind"]): void => onMarks(toggleMark(marks, { kind, frame }));
  const onKey = (event: KeyboardEvent): void => {
    const step = event.shiftKey ? 10 : 1;
    const act: Record<string, () => void> = {
      ArrowLeft: () => go(frame - step),
      ArrowRight: () => go(frame + step),
      c: () => mark("contact"),
      t: () => mark("toe-off"),
      Backspace: () => onMarks(marks.slice(0, -1)),
    };
    const chosen = act[event.key];
    if (!chosen) return;
    event.preventDefault();
    chosen();
  };
  /** The keys work wherever the hand was last. */
  const takeKeys = (): void => frameOf.current?.focus({ preventScroll: true });
  const onClick = (event: MouseEvent<SVGSVGElement>): void => {
    takeKeys();
    if (points.length >= POINT_NAMES.length) return;
    const box = event.currentTarget.getBoundingClientRect();
    onPoints([
      ...points,
      {
        x: ((event.clientX - box.left) / box.width) * size.width,
        y: ((event.clientY - box.top) / box.height) * size.height,
      },
    ]);
  };
  return (
    // The whole player takes the keys, so that stepping and marking need no second hand.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <section ref={frameOf} aria-label={words.title} tabIndex={-1} className="player" onKeyDown={onKey}>
      <div className="clip">
        {/* A clip filmed at the trackside has nothing to caption. */}
        {/* oxlint-disable-next-line jsx-a11y/media-has-caption */}
        <video
          ref={video}
          src={address}
          muted
          playsInline
          preload="auto"
          onLoadedMetadata={(event) => {
            const element = event.currentTarget;
            setSize({ width: element.videoWidth, height: element.videoHeight });
            takeKeys();
            // Some recorders do not write how long the clip is; looking for its end tells.
            if (Number.isFinite(element.duration)) go(0);
            else {
              looksForEnd.current = true;
              element.currentTime = Number.MAX_SAFE_INTEGER;
            }
          }}
          onDurationChange={(event) => {
            // Only then: a length that is corrected later must not throw the coach back to the beginning.
            if (!looksForEnd.current || !Number.isFinite(event.currentTarget.duration)) return;
            looksForEnd.current = false;
            go(0);
          }}
        />
        <svg viewBox={`0 0 ${size.width} ${size.height}`} className="clip-points" onClick={onClick} aria-hidden="true">
          <polyline points={points.map((point) => `${point.x},${point.y}`).join(" ")} className="clip-limb" />
          {points.map((point, i) => (
            <circle key={POINT_NAMES[i]} cx={point.x} cy={point.y} r={size.width / 110} className="clip-point" />
          ))}
        </svg>
      </div>
      <div className="row clip-tools">
        <Button onClick={() => go(frame - 1)} aria-label={words.earlierFrame}>
          ←
        </Button>
        <output className="clip-frame">{words.frame(frame)}</output>
        <Button onClick={() => go(frame + 1)} aria-label={words.laterFrame}>
          →
        </Button>
        <Button kind="go" onClick={() => mark("contact")}>
          {words.contact}
        </Button>
        <Button kind="go" onClick={() => mark("toe-off")}>
          {words.toeOff}
        </Button>
        <Button disabled={marks.length === 0} onClick={() => onMarks(marks.slice(0, -1))}>
          {words.undoMark}
        </Button>
      </div>
      <p className="muted small">{words.keys}</p>
      <ol className="clip-marks" aria-label={words.marks}>
        {marks
          .toSorted((a, b) => a.frame - b.frame)
          .map((one) => (
            <li key={`${one.kind} ${one.frame}`}>
              <Button kind="quiet" onClick={() => go(one.frame)}>
                {one.kind === "contact" ? "▼" : "▲"} {one.kind === "contact" ? words.contact : words.toeOff} {one.frame}
              </Button>
            </li>
          ))}
      </ol>
    </section>
  );
}
