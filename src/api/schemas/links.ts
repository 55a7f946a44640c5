// Runner links: unguessable, revocable, expiring, for one runner only. The secret is shown once.
import { type Static, Type } from "typebox";
import { Id, Instant, nullable } from "./common.ts";

export const LinkInput = Type.Object({
  expiresAt: Type.Optional(Instant),
});

export const Link = Type.Object({
  id: Id,
  runnerId: Id,
  createdAt: Instant,
  expiresAt: Instant,
  revokedAt: nullable(Instant),
  lastUsedAt: nullable(Instant),
  live: Type.Boolean(),
});
export type Link = Static<typeof Link>;

export const LinkCreated = Type.Object({
  link: Link,
  token: Type.String({ description: "Shown only now; only its hash is kept." }),
  address: Type.String({ description: "Path to open on the phone: /run/#token, so no server log ever sees it." }),
});
