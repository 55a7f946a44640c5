import { type Evidence } from "./evidence.ts";

export const decisionsEvidence: readonly Evidence<unknown>[] = [];
