import { type Evidence } from "./evidence.ts";

export const soundEvidence: readonly Evidence<unknown>[] = [];
