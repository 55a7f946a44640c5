import { type Evidence } from "./evidence.ts";

export const measuringEvidence: readonly Evidence<unknown>[] = [];
