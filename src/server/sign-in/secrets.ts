// Secrets are kept as hashes only. They have 256 bits of their own, so a plain hash is enough for them.
import { createHash } from "node:crypto";

export function hashSecret(secret: string): string {
  return createHash("sha256").update(secret).digest("base64url");
}
