import { type Evidence } from "./evidence.ts";

export const loadEvidence: readonly Evidence<unknown>[] = [];
