// Moving about in the traces by hand: two fingers or Ctrl and wheel look closer, one finger or a sideways wheel moves along. The
// page itself scrolls on as ever. All plots are drawn once a frame, however many events come.
import { pannedRange, type TraceRange, zoomedRange } from "./trace-range.ts";

export interface TraceView {
  readonly range: TraceRange;
  readonly whole: TraceRange;
  /** Where the plotted line begins and ends on the screen, CSS pixels from the left of the window. */
  readonly leftPx: number;
  readonly widthPx: number;
}

/** A wheel's notch is about 100: then a fifth closer. */
const CLOSER_PER_PIXEL = 0.002;

/** Listens until the returned function is called. */
export function listenToGestures(
  element: HTMLElement,
  view: () => TraceView | undefined,
  show: (range: TraceRange) => void,
): () => void {
  let next: TraceRange | undefined;
  let frame = 0;
  const soon = (range: TraceRange): void => {
    next = range;
    frame ||= requestAnimationFrame(() => {
      frame = 0;
      if (next) show(next);
      next = undefined;
    });
  };
  const now = (seen: TraceView): TraceRange => next ?? seen.range;
  const secondsAt = (seen: TraceView, xPx: number): number => {
    const [from, to] = now(seen);
    return from + ((xPx - seen.leftPx) / seen.widthPx) * (to - from);
  };
  const move = (seen: TraceView, byPx: number): void => {
    const [from, to] = now(seen);
    soon(pannedRange([from, to], seen.whole, (byPx / seen.widthPx) * (to - from)));
  };
  const onWheel = (event: WheelEvent): void => {
    const seen = view();
    if (!seen) return;
    const sideways = event.shiftKey && event.deltaX === 0 ? event.deltaY : event.deltaX;
    if (event.ctrlKey || event.metaKey) {
      const factor = Math.exp(event.deltaY * CLOSER_PER_PIXEL);
      soon(zoomedRange(now(seen), seen.whole, factor, secondsAt(seen, event.clientX)));
    } else if (Math.abs(sideways) > 0) move(seen, sideways);
    else return;
    event.preventDefault();
  };
  const fingers = new Map<number, number>();
  const onDown = (event: PointerEvent): void => {
    if (event.pointerType !== "mouse") fingers.set(event.pointerId, event.clientX);
  };
  const onMove = (event: PointerEvent): void => {
    const before = fingers.get(event.pointerId);
    const seen = view();
    if (before === undefined || !seen) return;
    const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
    fingers.set(event.pointerId, event.clientX);
    if (other === undefined) move(seen, before - event.clientX);
    else {
      const [wasPx, isPx] = [Math.abs(before - other), Math.abs(event.clientX - other)];
      if (wasPx > 4 && isPx > 4) soon(zoomedRange(now(seen), seen.whole, wasPx / isPx, secondsAt(seen, other)));
    }
  };
  const onUp = (event: PointerEvent): void => void fingers.delete(event.pointerId);
  element.addEventListener("wheel", onWheel, { passive: false });
  element.addEventListener("pointerdown", onDown);
  element.addEventListener("pointermove", onMove);
  for (const end of ["pointerup", "pointercancel", "pointerleave"] as const) element.addEventListener(end, onUp);
  return () => {
    cancelAnimationFrame(frame);
    element.removeEventListener("wheel", onWheel);
    element.removeEventListener("pointerdown", onDown);
    element.removeEventListener("pointermove", onMove);
    for (const end of ["pointerup", "pointercancel", "pointerleave"] as const) element.removeEventListener(end, onUp);
  };
}
