// Health, readiness, privacy exports and deletions, backups.
import { Type } from "typebox";
import { Id, Instant, nullable } from "./common.ts";

export const Health = Type.Object({ status: Type.Literal("ok"), version: Type.String() });

export const Ready = Type.Object({
  status: Type.Enum(["ready", "not-ready"]),
  database: Type.String(),
  migrationsPending: Type.Integer(),
  jobsWaiting: Type.Integer(),
});

export const Deleted = Type.Object({
  deleted: Type.Boolean(),
  counts: Type.Record(Type.String(), Type.Integer(), { description: "Rows deleted, by table." }),
  note: Type.String({ description: "What still holds copies, and until when." }),
});

export const BackupMade = Type.Object({ file: Type.String(), byteCount: Type.Integer(), at: Instant });

export const AuditEntry = Type.Object({
  id: Id,
  at: Instant,
  byAccountId: nullable(Id),
  what: Type.String(),
  groupId: nullable(Id),
  runnerId: nullable(Id),
});
