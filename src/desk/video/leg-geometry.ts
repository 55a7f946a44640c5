// Over-striding in two numbers, from four points marked on the frame of contact. Screen coordinates: x to the right, y down.

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface LegPoints {
  readonly hip: Point;
  readonly knee: Point;
  readonly ankle: Point;
  readonly toe: Point;
}

export interface LegGeometry {
  /** Shank against the vertical; positive when the ankle is ahead of the knee, as in over-striding. */
  readonly shankAngleRad: number;
  /** Ankle ahead of the hip, in the length unit of the scale. */
  readonly footAheadOfHipM: number;
}

/**
 * Scaled by the known length of the shank (knee to ankle, metres). The running direction is where the toe points. RangeError
 * when knee and ankle are one point or the length is not positive.
 */
export function legGeometry(points: LegPoints, shankLengthM: number): LegGeometry {
  const { hip, knee, ankle, toe } = points;
  const shankPx = Math.hypot(ankle.x - knee.x, ankle.y - knee.y);
  if (!(shankPx > 0)) throw new RangeError("legGeometry: knee and ankle must be different points");
  if (!(shankLengthM > 0)) throw new RangeError(`legGeometry: shankLengthM must be positive, got ${shankLengthM}`);
  const forward = toe.x >= ankle.x ? 1 : -1;
  return {
    shankAngleRad: Math.atan2(forward * (ankle.x - knee.x), ankle.y - knee.y),
    footAheadOfHipM: (forward * (ankle.x - hip.x) * shankLengthM) / shankPx,
  };
}
