// Every constant with its source, by topic. Ids are unique; a test holds each to a source and to a use.
import { measuringEvidence } from "./measuring.ts";
import { stepsEvidence } from "./steps.ts";
import { soundEvidence } from "./sound.ts";
import { speedEvidence } from "./speed.ts";
import { changeEvidence } from "./change.ts";
import { loadEvidence } from "./load.ts";
import { targetsEvidence } from "./targets.ts";
import { plansEvidence } from "./plans.ts";
import { decisionsEvidence } from "./decisions.ts";
import { sessionsEvidence } from "./sessions.ts";
import { beatsEvidence } from "./beats.ts";
import { lanesEvidence } from "./lanes.ts";

export const allEvidence = [
  ...measuringEvidence,
  ...stepsEvidence,
  ...soundEvidence,
  ...speedEvidence,
  ...changeEvidence,
  ...loadEvidence,
  ...targetsEvidence,
  ...plansEvidence,
  ...decisionsEvidence,
  ...sessionsEvidence,
  ...beatsEvidence,
  ...lanesEvidence,
] as const;
