import { type Evidence } from "./evidence.ts";

export const lanesEvidence: readonly Evidence<unknown>[] = [];
