import { type Evidence } from "./evidence.ts";

export const sessionsEvidence: readonly Evidence<unknown>[] = [];
