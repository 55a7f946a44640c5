import { type Evidence } from "./evidence.ts";

export const speedEvidence: readonly Evidence<unknown>[] = [];
