// A session as data: what the runner does, block by block. Cards, beat tracks and the phone page all read this.

export type BlockKind = "warm-up" | "standing-drill" | "drill" | "cue-on" | "cue-off" | "strides" | "cool-down";

export interface SessionBlock {
  readonly kind: BlockKind;
  /** Exactly one of durationS and distanceM is given. A distance needs speedMps for a beat track. */
  readonly durationS?: number;
  readonly distanceM?: number;
  /** Both feet, one beat per step. Present when a beat plays in the block. */
  readonly stepRateSpm?: number;
  /** When present the beat moves evenly from stepRateSpm to this over the block. */
  readonly endStepRateSpm?: number;
  /** Share of the block in which the beat plays, 0–1, for faded and probe blocks; absent means all of it. */
  readonly cueShare?: number;
  readonly speedMps?: number;
  readonly drillId?: string;
  /** One plain sentence for the runner. */
  readonly note?: string;
}

export interface Session {
  readonly id: string;
  readonly title: string;
  readonly blocks: readonly SessionBlock[];
}
