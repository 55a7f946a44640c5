import { type Evidence } from "./evidence.ts";

export const stepsEvidence: readonly Evidence<unknown>[] = [];
