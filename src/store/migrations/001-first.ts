// The first schema. Booleans are integers 0/1, instants and dates are ISO 8601 text, lists and documents are JSON text:
// the same on both databases. Only the type of raw bytes differs.
import { type CreateTableBuilder, type Kysely, type RawBuilder, sql } from "kysely";
import type { DatabaseKind } from "../dialects/kind.ts";

type Builder = CreateTableBuilder<string, string>;
const bytesType = (kind: DatabaseKind): RawBuilder<unknown> => (kind === "postgres" ? sql`bytea` : sql`blob`);

export const first = (kind: DatabaseKind) => ({
  async up(db: Kysely<unknown>): Promise<void> {
    const table = async (name: string, define: (builder: Builder) => Builder): Promise<void> => {
      await define(db.schema.createTable(name) as unknown as Builder).execute();
    };
    const text = (builder: Builder, ...names: string[]): Builder =>
      names.reduce((made, name) => made.addColumn(name, "text", (column) => column.notNull()), builder);
    const textOrNull = (builder: Builder, ...names: string[]): Builder =>
      names.reduce((made, name) => made.addColumn(name, "text"), builder);
    const integer = (builder: Builder, ...names: string[]): Builder =>
      names.reduce((made, name) => made.addColumn(name, "integer", (column) => column.notNull()), builder);
    const integerOrNull = (builder: Builder, ...names: string[]): Builder =>
      names.reduce((made, name) => made.addColumn(name, "integer"), builder);
    const real = (builder: Builder, ...names: string[]): Builder =>
      names.reduce((made, name) => made.addColumn(name, "double precision", (column) => column.notNull()), builder);
    const realOrNull = (builder: Builder, ...names: string[]): Builder =>
      names.reduce((made, name) => made.addColumn(name, "double precision"), builder);
    const id = (builder: Builder, name = "id"): Builder =>
      builder.addColumn(name, "text", (column) => column.primaryKey().notNull());
    const ref = (builder: Builder, name: string, to: string): Builder =>
      builder.addColumn(name, "text", (column) => column.notNull().references(`${to}.id`));

    await table("account", (t) => {
      const named = t.addColumn("signInName", "text", (column) => column.notNull().unique());
      return text(
        integer(textOrNull(text(id(named), "displayName"), "passwordHash"), "owner", "disabled"),
        "createdAt",
      );
    });
    await table("signInSession", (t) =>
      text(ref(id(t, "tokenHash"), "accountId", "account"), "createdAt", "lastSeenAt", "expiresAt"),
    );
    await table("oneTimeCode", (t) => text(textOrNull(text(id(t, "codeHash"), "purpose"), "accountId"), "expiresAt"));
    await table("coachGroup", (t) => {
      const dated = textOrNull(
        text(integer(text(id(t), "name", "startsOn"), "weeks", "eveningWeekday"), "timeZone", "holidaysJson"),
        "raceDate",
      );
      return text(integer(text(dated, "note"), "archived", "invented"), "settingsJson", "createdAt");
    });
    await table("member", (t) => text(ref(ref(id(t), "groupId", "coachGroup"), "accountId", "account"), "role"));
    await table("runner", (t) => {
      const named = text(ref(id(t), "groupId", "coachGroup"), "name", "nameKey", "initials");
      const bodied = realOrNull(text(realOrNull(named, "heightM", "legLengthM", "massKg"), "historyJson"), "goalSpm");
      return text(integer(text(integer(textOrNull(bodied, "raceDate"), "remote"), "notes"), "archived"), "createdAt");
    });
    await table("footCount", (t) => {
      const typed = text(
        real(text(ref(id(t), "runnerId", "runner"), "way"), "contacts", "seconds"),
        "feet",
        "firstContact",
      );
      const fast = textOrNull(text(realOrNull(typed, "lapLengthM", "lapTimeS", "speedMps"), "surface"), "cue");
      return text(integer(text(fast, "purpose", "measuredAt", "note"), "confirmed"), "enteredBy");
    });
    await table("recording", (t) => {
      const file = text(integer(text(ref(id(t), "runnerId", "runner"), "fileName"), "byteCount"), "contentSha256");
      const sorted = text(textOrNull(text(file, "phase", "surface"), "startedAt"), "uploadedAt", "uploadedBy");
      const cut = realOrNull(real(text(integer(sorted, "excluded"), "excludedReason"), "trimStartS"), "trimEndS");
      return text(integerOrNull(textOrNull(cut, "cueBlocksJson"), "effortRating"), "note").addUniqueConstraint(
        "recordingContentOnce",
        ["runnerId", "contentSha256"],
      );
    });
    // No reference to recording: the bytes outlive a removed recording until its removal can no longer be undone.
    await table("recordingChunk", (t) =>
      integer(text(t, "recordingId"), "chunkIndex")
        .addColumn("bytes", bytesType(kind), (column) => column.notNull())
        .addPrimaryKeyConstraint("recordingChunkKey", ["recordingId", "chunkIndex"]),
    );
    await table("analysis", (t) =>
      text(
        textOrNull(
          text(id(t, "recordingId"), "engineVersion", "state", "computedAt", "problemsJson", "warningsJson"),
          "summaryJson",
        ),
        "windowsJson",
      ).addColumn("traceGzip", bytesType(kind)),
    );
    await table("proposalDecision", (t) => {
      const advised = realOrNull(text(ref(id(t), "runnerId", "runner"), "advice"), "targetSpm");
      return text(
        textOrNull(text(integer(advised, "changedByCoach"), "reason", "proposalJson", "at"), "byAccountId"),
        "byName",
      );
    });
    await table("plan", (t) => {
      const staged = integer(text(ref(id(t), "runnerId", "runner"), "planJson"), "currentStageIndex", "stageCount");
      return text(integer(real(staged, "currentSpm"), "stopped", "edited"), "updatedAt");
    });
    await table("decision", (t) => {
      const whose = ref(ref(text(id(t), "clientId"), "groupId", "coachGroup"), "runnerId", "runner");
      const what = integer(textOrNull(text(whose, "weekStartsOn", "decision"), "proposed", "rule"), "overruled");
      return text(textOrNull(text(what, "reason", "at"), "byAccountId"), "byName");
    });
    await table("pain", (t) =>
      text(integer(ref(id(t), "runnerId", "runner"), "score"), "place", "signsJson", "at", "note", "enteredBy"),
    );
    await table("formNote", (t) => text(ref(id(t), "runnerId", "runner"), "at", "whenInRun", "signsJson", "note"));
    await table("videoMeasure", (t) => {
      const marked = text(
        real(text(ref(id(t), "runnerId", "runner"), "at", "phase"), "frameRateHz"),
        "contactFramesJson",
      );
      return text(realOrNull(text(marked, "toeOffFramesJson"), "speedMps", "shankAngleRad", "footAheadOfHipM"), "note");
    });
    await table("report", (t) => {
      const about = textOrNull(text(ref(id(t), "runnerId", "runner"), "at"), "sessionId", "recordingId");
      return text(integer(integerOrNull(about, "effortRating"), "done"), "note");
    });
    await table("attendance", (t) =>
      text(ref(ref(id(t), "groupId", "coachGroup"), "runnerId", "runner"), "onDate", "presence"),
    );
    await table("runnerLink", (t) => {
      const secret = ref(id(t), "runnerId", "runner").addColumn("tokenHash", "text", (column) =>
        column.notNull().unique(),
      );
      return textOrNull(text(secret, "createdAt", "expiresAt"), "revokedAt", "lastUsedAt");
    });
    await table("consent", (t) =>
      text(integer(text(integer(ref(id(t), "runnerId", "runner"), "given"), "textVersion"), "location"), "at"),
    );
    await table("change", (t) => {
      const when = text(textOrNull(ref(id(t), "groupId", "coachGroup"), "runnerId"), "at");
      const what = integer(text(textOrNull(when, "byAccountId"), "byName", "what", "mainTable"), "rowCount");
      return textOrNull(what, "undoOf", "undoneBy");
    });
    await table("changeRow", (t) =>
      textOrNull(
        text(integer(ref(t, "changeId", "change"), "position"), "tableName", "rowId"),
        "runnerId",
        "beforeJson",
        "afterJson",
      ).addPrimaryKeyConstraint("changeRowKey", ["changeId", "position"]),
    );
    await table("audit", (t) =>
      textOrNull(text(textOrNull(text(id(t), "at"), "byAccountId"), "what"), "groupId", "runnerId"),
    );
    await table("job", (t) => {
      const named = id(t).addColumn("jobKey", "text", (column) => column.notNull().unique());
      const tried = integer(text(named, "kind", "payloadJson", "runAfter"), "attempts");
      return text(textOrNull(tried, "claimedBy", "claimedUntil", "lastError"), "createdAt");
    });
    await table("runnerState", (t) => {
      const versions = integer(id(t, "runnerId"), "dataVersion", "computedFor");
      return textOrNull(
        realOrNull(text(versions, "engineVersion"), "baselineSpm"),
        "finding",
        "stateJson",
        "computedAt",
      );
    });
    await table("installation", (t) => text(id(t, "name"), "value"));

    const index = async (name: string, on: string, columns: string[]): Promise<void> => {
      await db.schema.createIndex(name).on(on).columns(columns).execute();
    };
    await index("signInSessionByAccount", "signInSession", ["accountId"]); // sign out everywhere
    await index("memberByAccount", "member", ["accountId"]); // one's own groups
    await index("memberByGroup", "member", ["groupId"]); // who is in a group
    await index("runnerByGroup", "runner", ["groupId", "nameKey", "id"]); // the roster, paged by name
    await index("footCountByRunner", "footCount", ["runnerId", "measuredAt"]); // newest counts
    await index("recordingByRunner", "recording", ["runnerId", "uploadedAt"]); // newest recordings
    await index("decisionByGroupWeek", "decision", ["groupId", "weekStartsOn"]); // the week's triage
    await index("decisionByRunner", "decision", ["runnerId"]); // deleting a person
    await index("painByRunner", "pain", ["runnerId", "at"]); // latest pain
    await index("formNoteByRunner", "formNote", ["runnerId", "at"]); // timeline
    await index("videoMeasureByRunner", "videoMeasure", ["runnerId", "at"]); // timeline
    await index("reportByRunner", "report", ["runnerId", "at"]); // timeline
    await index("attendanceByGroup", "attendance", ["groupId", "onDate"]); // an evening
    await index("attendanceByRunner", "attendance", ["runnerId"]); // deleting a person
    await index("runnerLinkByRunner", "runnerLink", ["runnerId"]); // links of a runner
    await index("consentByRunner", "consent", ["runnerId", "at"]); // the latest consent
    await index("changeByGroup", "change", ["groupId", "at"]); // history, newest first
    await index("changeRowByRunner", "changeRow", ["runnerId"]); // deleting a person
    await index("changeRowByRow", "changeRow", ["tableName", "rowId"]); // may the bytes of a removed recording go?
    await index("auditByTime", "audit", ["at"]); // newest first
    await index("jobByTime", "job", ["runAfter"]); // the next job
    await index("analysisByVersion", "analysis", ["engineVersion"]); // what an engine change makes stale
  },
});
