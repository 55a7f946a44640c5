// What the engine says of a runner now: baseline, comparison, runs. Made again when stale or when the engine changed.
export interface RunnerStateTable {
  runnerId: string;
  /** Goes up with every write about the runner; the state is fresh when computedFor equals it. */
  dataVersion: number;
  computedFor: number;
  engineVersion: string;
  /** Both feet; for sorting the roster. */
  baselineSpm: number | null;
  finding: string | null;
  stateJson: string | null;
  computedAt: string | null;
  /** What lists need of stateJson, a tenth of its size; null: computed before there was such a thing. */
  weekJson?: string | null;
  /** Hash of everything that stateJson was computed from: the same again needs no computing. */
  contentKey?: string | null;
}
