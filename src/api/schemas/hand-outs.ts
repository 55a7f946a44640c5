// What leaves the desk: the evening's sheet, messages, calendar addresses, mail and its outbox.
import { type Static, Type } from "typebox";
import { Id, Instant, nullable, PlainDate, Problem } from "./common.ts";
import { PlannedSession } from "./plans.ts";
import { TrackOptions } from "./tracks.ts";

export const SheetQuery = Type.Object({
  on: Type.Optional(PlainDate),
  tolerancePercent: Type.Optional(Type.Number({ minimum: 0.1, maximum: 10 })),
  speakers: Type.Optional(Type.Integer({ minimum: 1, maximum: 20 })),
});

export const SheetRow = Type.Object({
  runnerId: Id,
  name: Type.String(),
  stepRateSpm: Type.Number(),
  baselineSpm: Type.Number(),
  speedMps: nullable(Type.Number()),
  speedExponent: Type.Number(),
  laneNumber: nullable(Type.Integer()),
  beatSpm: nullable(Type.Number()),
  planned: PlannedSession,
});

export const Sheet = Type.Object({
  on: PlainDate,
  worstDeviationPercent: Type.Number(),
  lanes: Type.Array(Type.Object({ beatSpm: Type.Number(), memberCount: Type.Integer() })),
  rows: Type.Array(SheetRow, { description: "By lane, then name." }),
  without: Type.Array(
    Type.Object({ runnerId: Id, name: Type.String(), why: Type.Enum(["no-plan", "stopped", "no-session"]) }),
  ),
});
export type Sheet = Static<typeof Sheet>;

export const SessionTracksQuery = Type.Object({
  ...TrackOptions,
  on: Type.Optional(PlainDate),
  days: Type.Optional(Type.Integer({ minimum: 1, maximum: 14, description: "Sessions of so many days from then on." })),
  progressId: Type.Optional(Id),
});

export const TrackProgress = Type.Object({
  known: Type.Boolean({ description: "false: not begun here, or long over." }),
  tracksDone: Type.Integer(),
  trackCount: Type.Integer(),
  fileName: nullable(Type.String()),
});

export const MessageQuery = Type.Object({
  weekOn: Type.Optional(PlainDate),
  runnerId: Type.Optional(Id),
});

export const Message = Type.Object({
  runnerId: Id,
  name: Type.String(),
  address: nullable(Type.String({ description: "Only for coaches." })),
  subject: Type.String(),
  text: Type.String(),
});

export const Messages = Type.Object({ weekOn: PlainDate, items: Type.Array(Message) });
export type Messages = Static<typeof Messages>;

export const Feed = Type.Object({
  id: Id,
  runnerId: nullable(Id),
  createdAt: Instant,
  revokedAt: nullable(Instant),
  lastUsedAt: nullable(Instant),
  live: Type.Boolean(),
});
export type Feed = Static<typeof Feed>;

export const FeedParams = Type.Object({ groupId: Id, feedId: Id });
export const FeedInput = Type.Object({ runnerId: Type.Optional(nullable(Id)) });
export const FeedCreated = Type.Object({
  feed: Feed,
  address: Type.String({ description: "With its secret; in this answer and nowhere else." }),
});
export const CalendarParams = Type.Object({ token: Type.String({ pattern: "^[A-Za-z0-9_-]{43}$" }) });

export const MailServerInput = Type.Object({
  host: Type.String({ minLength: 1, maxLength: 253, pattern: "^[A-Za-z0-9.:-]+$" }),
  port: Type.Integer({ minimum: 1, maximum: 65_535 }),
  encryption: Type.Enum(["tls", "starttls", "none"]),
  user: Type.Optional(nullable(Type.String({ maxLength: 320 }))),
  password: Type.Optional(
    nullable(Type.String({ maxLength: 1000, description: "Absent keeps the one that is stored." })),
  ),
  from: Type.String({ maxLength: 254 }),
});
export type MailServerInput = Static<typeof MailServerInput>;

/** The password is never told. */
export const MailServer = Type.Object({
  configured: Type.Boolean(),
  host: Type.String(),
  port: Type.Integer(),
  encryption: Type.Enum(["tls", "starttls", "none"]),
  user: nullable(Type.String()),
  from: Type.String(),
  hasPassword: Type.Boolean(),
  passwordReadable: Type.Boolean({
    description: "false: the key that sealed it is not on this machine; type it again.",
  }),
});
export type MailServer = Static<typeof MailServer>;

export const AddressBatch = Type.Object({
  addresses: Type.Array(Type.Object({ runnerId: Id, address: nullable(Type.String({ maxLength: 254 })) }), {
    maxItems: 500,
  }),
});
export const Addresses = Type.Object({
  items: Type.Array(Type.Object({ runnerId: Id, address: Type.String() })),
});

export const MailDraft = Type.Object({
  runnerId: Id,
  subject: Type.String({ maxLength: 400 }),
  text: Type.String({ maxLength: 100_000 }),
});
export const MailDrafts = Type.Object({ drafts: Type.Array(MailDraft, { minItems: 1, maxItems: 500 }) });
export const MailPreviews = Type.Object({
  items: Type.Array(
    Type.Object({
      runnerId: Id,
      name: Type.String(),
      from: Type.String(),
      to: Type.String(),
      subject: Type.String(),
      text: Type.String(),
      digest: Type.String({ description: "Sending asks for it, so that nothing unseen goes out." }),
      problems: Type.Array(Problem),
    }),
  ),
});

export const MailSend = Type.Object({
  weekOn: PlainDate,
  messages: Type.Array(Type.Object({ ...MailDraft.properties, digest: Type.String({ pattern: "^[0-9a-f]{64}$" }) }), {
    minItems: 1,
    maxItems: 500,
  }),
});

export const MailItem = Type.Object({
  id: Id,
  runnerId: Id,
  name: Type.String(),
  to: Type.String(),
  subject: Type.String(),
  text: Type.String(),
  createdAt: Instant,
  attempts: Type.Integer(),
  status: Type.Enum(["queued", "sending", "sent", "failed", "uncertain"]),
  at: Instant,
  reason: Type.String(),
  own: Type.Boolean({ description: "Queued by the person who asks." }),
});
export type MailItem = Static<typeof MailItem>;

export const MailSent = Type.Object({
  queued: Type.Array(Id),
  refused: Type.Array(Type.Object({ runnerId: Id, problems: Type.Array(Problem) })),
});

export const MailParams = Type.Object({ groupId: Id, mailId: Id });
