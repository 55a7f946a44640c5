// A NUL in a text: PostgreSQL cannot store it, nobody types it, and old programs stop reading there. Refused everywhere.
import type { FastifyRequest } from "fastify";
import { Refusal } from "./refusal.ts";

export function refuseNul(request: FastifyRequest): void {
  const isFile = typeof request.body === "object" && request.body !== null && "pipe" in request.body;
  if (holdsNul([request.params, request.query, isFile ? undefined : request.body]))
    throw new Refusal(400, "not-valid", "A text holds a NUL character.");
}

/** Without recursion: a body may be nested deeper than the stack. */
function holdsNul(root: unknown): boolean {
  const waiting: unknown[] = [root];
  while (waiting.length > 0) {
    const value = waiting.pop();
    if (typeof value === "string" && value.includes("\u0000")) return true;
    if (typeof value !== "object" || value === null) continue;
    for (const [key, inner] of Object.entries(value)) {
      if (key.includes("\u0000")) return true;
      waiting.push(inner);
    }
  }
  return false;
}
