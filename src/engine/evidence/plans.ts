import { type Evidence } from "./evidence.ts";

export const plansEvidence: readonly Evidence<unknown>[] = [];
