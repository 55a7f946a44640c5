// A NUL in a text: PostgreSQL cannot store it, nobody types it, and old programs stop reading there. Refused everywhere.
import type { FastifyRequest } from "fastify";
import { Refusal } from "./refusal.ts";

export function refuseNul(request: FastifyRequest): void {
  const isFile = typeof request.body === "object" && request.body !== null && "pipe" in request.body;
  const parts = [request.params, request.query, isFile ? undefined : request.body];
  if (parts.some(holdsNul)) throw new Refusal(400, "not-valid", "A text holds a NUL character.");
}

function holdsNul(value: unknown): boolean {
  if (typeof value === "string") return value.includes("\u0000");
  if (typeof value !== "object" || value === null) return false;
  return Object.entries(value).some(([key, inner]) => key.includes("\u0000") || holdsNul(inner));
}
