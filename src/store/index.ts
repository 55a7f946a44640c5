// What other parts may use.
export {
  backupFault,
  BackupError,
  backupSqlite,
  integrityFaults,
  restoreSqlite,
  rotate,
} from "./backup.ts";
export { backupStore, restoreInto } from "./backup-store.ts";
export { TrackedWrite } from "./changes/tracked-write.ts";
export { undoChange } from "./changes/undo.ts";
export { addJob, type Claim, claimJob, finishJob, type JobRow, returnJob, waitingJobCount } from "./jobs.ts";
export { countTables, moveStore } from "./move.ts";
export {
  openStore,
  pendingMigrationCount,
  type Store,
  StoreOpenError,
  type StorePlace,
} from "./open.ts";
export { AccountReader, type AccountRow } from "./readers/accounts.ts";
export { ChangeReader, type ChangeRecord } from "./readers/changes.ts";
export { GroupReader, type GroupRow } from "./readers/groups.ts";
export {
  type CalendarFeedRow,
  HandOutReader,
  type MailItemRow,
  type MailServerRow,
  type PracticePieceRow,
} from "./readers/hand-outs.ts";
export { type AnalysedRow, RecordingReader, type RecordingRow, type WindowsRow } from "./readers/recordings.ts";
export { readRoster, type RosterRow } from "./readers/roster.ts";
export { RunnerReader, type RunnerRow } from "./readers/runners.ts";
export { UploadPartReader } from "./readers/upload-parts.ts";
export { WeekReader } from "./readers/week.ts";
export type { Database } from "./schema/database.ts";
export { codeOf, isForeignKeyFailure, type Reading, type Writing } from "./transaction.ts";
export { AccountWriter } from "./writers/accounts.ts";
export { eraseGroup, eraseRunner } from "./writers/erase.ts";
export { markOutdatedStates, markRunnersStale } from "./writers/mark-stale.ts";
export { CHUNK_BYTES, RecordingWriter } from "./writers/recordings.ts";
export { UploadPartWriter } from "./writers/upload-parts.ts";
