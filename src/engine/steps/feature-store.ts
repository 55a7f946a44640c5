// Features of a whole recording, kept for placing contacts after the rates are known. Grows by doubling.

/** One stretch without a long gap, uniformly sampled. */
export interface FeatureStretch {
  readonly startS: number;
  readonly featureRateHz: number;
  /** A channel that repeats with every step: norm or onset strength. */
  readonly body: Float32Array;
  /** A channel that is strongest at impacts. */
  readonly impact: Float32Array;
}

export interface FeatureStore {
  begin(startS: number): void;
  add(body: number, impact: number): void;
  finish(): readonly FeatureStretch[];
}

export function createFeatureStore(featureRateHz: number): FeatureStore {
  const stretches: FeatureStretch[] = [];
  let startS = 0;
  let length = 0;
  let body = new Float32Array(1024);
  let impact = new Float32Array(1024);
  const close = (): void => {
    if (length > 0)
      stretches.push({ startS, featureRateHz, body: body.slice(0, length), impact: impact.slice(0, length) });
    length = 0;
  };
  return {
    begin(timeS) {
      close();
      startS = timeS;
    },
    add(bodyValue, impactValue) {
      if (length === body.length) {
        body = grown(body);
        impact = grown(impact);
      }
      body[length] = bodyValue;
      impact[length] = impactValue;
      length += 1;
    },
    finish() {
      close();
      return stretches;
    },
  };
}

function grown(from: Float32Array<ArrayBuffer>): Float32Array<ArrayBuffer> {
  const to = new Float32Array(2 * from.length);
  to.set(from);
  return to;
}
