// From rows of the store to what the API answers. Every field by name: nothing leaves because it happens to be there.
import type { Selectable } from "kysely";
import type {
  Account,
  Change,
  Count,
  Decision,
  FormNote,
  Group,
  Link,
  Pain,
  Recording,
  Report,
  Runner,
  VideoMeasure,
} from "../../api/index.ts";
import type { AccountRow, ChangeRecord, Database, GroupRow, RecordingRow, RunnerRow } from "../../store/index.ts";
import { countAnswer } from "./count-rate.ts";

export function json<T>(text: string): T {
  return JSON.parse(text) as T;
}

export function presentAccount(row: AccountRow): Account {
  return {
    id: row.id,
    signInName: row.signInName,
    displayName: row.displayName,
    owner: row.owner === 1,
    hasPassword: row.passwordHash !== null,
    createdAt: row.createdAt,
    disabled: row.disabled === 1,
  };
}

export function presentGroup(row: GroupRow): Group {
  return {
    id: row.id,
    name: row.name,
    startsOn: row.startsOn,
    weeks: row.weeks,
    eveningWeekday: row.eveningWeekday,
    timeZone: row.timeZone,
    holidays: json(row.holidaysJson),
    raceDate: row.raceDate,
    note: row.note,
    archived: row.archived === 1,
    invented: row.invented === 1,
    createdAt: row.createdAt,
    runnerCount: Number(row.runnerCount),
    role: row.role,
  };
}

export function presentRunner(row: RunnerRow): Runner {
  return {
    id: row.id,
    groupId: row.groupId,
    name: row.name,
    initials: row.initials,
    heightM: row.heightM,
    legLengthM: row.legLengthM,
    massKg: row.massKg,
    history: json(row.historyJson),
    goalSpm: row.goalSpm,
    raceDate: row.raceDate,
    remote: row.remote === 1,
    notes: row.notes,
    archived: row.archived === 1,
    createdAt: row.createdAt,
  };
}

export function presentCount(row: Selectable<Database["footCount"]>): Count {
  const { stepRateSpm, speedMps, warnings } = countAnswer(row);
  return {
    id: row.id,
    runnerId: row.runnerId,
    way: row.way,
    contacts: row.contacts,
    seconds: row.seconds,
    feet: row.feet,
    first: row.firstContact,
    stepRateSpm,
    speedMps,
    surface: row.surface,
    cue: row.cue,
    purpose: row.purpose,
    measuredAt: row.measuredAt,
    note: row.note,
    by: row.enteredBy,
    warnings,
  };
}

export function presentPain(row: Selectable<Database["pain"]>): Pain {
  const { id, runnerId, score, place, at, note } = row;
  return { id, runnerId, score, place, signs: json(row.signsJson), at, note, by: row.enteredBy };
}

export function presentFormNote(row: Selectable<Database["formNote"]>): FormNote {
  const { id, runnerId, at, note } = row;
  return { id, runnerId, at, when: row.whenInRun, signs: json(row.signsJson), note };
}

export function presentVideo(row: Selectable<Database["videoMeasure"]>): VideoMeasure {
  const { id, runnerId, at, phase, frameRateHz, speedMps, shankAngleRad, footAheadOfHipM, note } = row;
  const contactFrames = json<number[]>(row.contactFramesJson);
  const toeOffFrames = json<number[]>(row.toeOffFramesJson);
  return {
    id,
    runnerId,
    at,
    phase,
    frameRateHz,
    contactFrames,
    toeOffFrames,
    speedMps,
    shankAngleRad,
    footAheadOfHipM,
    note,
  };
}

export function presentReport(row: Selectable<Database["report"]>): Report {
  const { id, runnerId, at, sessionId, recordingId, effortRating, note } = row;
  return { id, runnerId, at, sessionId, recordingId, effortRating, done: row.done === 1, note };
}

export function presentLink(row: Selectable<Database["runnerLink"]>, now: string): Link {
  const { id, runnerId, createdAt, expiresAt, revokedAt, lastUsedAt } = row;
  return { id, runnerId, createdAt, expiresAt, revokedAt, lastUsedAt, live: revokedAt === null && expiresAt > now };
}

export function presentChange(row: ChangeRecord): Change {
  return {
    id: row.id,
    at: row.at,
    byName: row.byName,
    what: row.what,
    runnerId: row.runnerId,
    table: row.mainTable,
    rowCount: row.rowCount,
    undone: row.undoneBy !== null,
    undoOf: row.undoOf,
  };
}

export function presentDecision(row: Selectable<Database["decision"]>): Decision {
  return {
    id: row.clientId,
    runnerId: row.runnerId,
    weekStartsOn: row.weekStartsOn,
    decision: row.decision,
    proposed: row.proposed,
    rule: row.rule,
    overruled: row.overruled === 1,
    reason: row.reason,
    at: row.at,
    byName: row.byName,
  };
}

export function presentRecording(row: RecordingRow): Recording {
  return {
    id: row.id,
    runnerId: row.runnerId,
    fileName: row.fileName,
    byteCount: row.byteCount,
    contentSha256: row.contentSha256,
    phase: row.phase,
    surface: row.surface,
    startedAt: row.startedAt,
    uploadedAt: row.uploadedAt,
    by: row.uploadedBy,
    excluded: row.excluded === 1,
    excludedReason: row.excludedReason,
    trimStartS: row.trimStartS,
    trimEndS: row.trimEndS,
    cueBlocks: row.cueBlocksJson === null ? [] : json(row.cueBlocksJson),
    effortRating: row.effortRating,
    note: row.note,
    state: row.state ?? "waiting",
    problems: row.problemsJson === null ? [] : json(row.problemsJson),
    warnings: row.warningsJson === null ? [] : json(row.warningsJson),
    summary: row.summaryJson === null ? null : json(row.summaryJson),
    engineVersion: row.engineVersion,
  };
}
