// Constants behind beat lanes L1–L4.
import { evidence, type Evidence } from "./evidence.ts";

export const laneToleranceShare = evidence({
  id: "lane-tolerance",
  value: 0.015,
  unit: "share of the runner's target",
  kind: "ours",
  note: "One beat serves a runner whose target is within 1.5 % of it, about 2.5 spm: inside what runners follow unasked.",
});

export const lanesEvidence: readonly Evidence<unknown>[] = [laneToleranceShare];
