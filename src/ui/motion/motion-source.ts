// The phone's own acceleration, as it comes, on one clock that never goes back.

export interface MotionSample {
  /** Milliseconds of the page's own clock (performance.now). */
  readonly timeMs: number;
  /** m/s², gravity included, in the phone's axes. */
  readonly xMps2: number;
  readonly yMps2: number;
  readonly zMps2: number;
}

export type MotionPermission = "granted" | "denied" | "no-sensor";

/** Call it from a tap: some phones ask their owner, and only then. */
export async function askForMotion(): Promise<MotionPermission> {
  if (!("DeviceMotionEvent" in globalThis)) return "no-sensor";
  const asking = DeviceMotionEvent as unknown as { requestPermission?: () => Promise<"granted" | "denied"> };
  if (asking.requestPermission === undefined) return "granted";
  try {
    return await asking.requestPermission();
  } catch {
    return "denied";
  }
}

/**
 * Tells every sample that has all three axes. Gravity included, because phones without a gyroscope offer nothing else.
 * A phone without a sensor sends one empty event or none, which tells nothing. Returns a function that stops it.
 */
export function listenToMotion(tell: (sample: MotionSample) => void): () => void {
  let lastMs = Number.NEGATIVE_INFINITY;
  const onMotion = (event: DeviceMotionEvent): void => {
    const { x, y, z } = event.accelerationIncludingGravity ?? { x: null, y: null, z: null };
    if (x === null || y === null || z === null) return;
    // The event's own time is when it was measured; a browser that puts another clock there is not believed.
    const nowMs = performance.now();
    const ownMs = event.timeStamp;
    const timeMs = Math.abs(nowMs - ownMs) < 2000 ? ownMs : nowMs;
    if (timeMs <= lastMs) return;
    lastMs = timeMs;
    tell({ timeMs, xMps2: x, yMps2: y, zMps2: z });
  };
  addEventListener("devicemotion", onMotion);
  return () => removeEventListener("devicemotion", onMotion);
}
