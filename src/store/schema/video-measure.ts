// Frames marked by eye. The clip itself is never stored.
export interface VideoMeasureTable {
  id: string;
  runnerId: string;
  at: string;
  phase: "before" | "during" | "after";
  frameRateHz: number;
  contactFramesJson: string;
  toeOffFramesJson: string;
  speedMps: number | null;
  shankAngleRad: number | null;
  footAheadOfHipM: number | null;
  note: string;
}
