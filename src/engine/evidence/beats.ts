import { type Evidence } from "./evidence.ts";

export const beatsEvidence: readonly Evidence<unknown>[] = [];
