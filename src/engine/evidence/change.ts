import { type Evidence } from "./evidence.ts";

export const changeEvidence: readonly Evidence<unknown>[] = [];
