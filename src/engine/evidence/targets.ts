import { type Evidence } from "./evidence.ts";

export const targetsEvidence: readonly Evidence<unknown>[] = [];
