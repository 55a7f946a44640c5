// The phone page: one runner, through the link's token.
import type { runnerPageRoutes } from "../../api/routes/runner-page.ts";
import type { BeatEvents } from "../../api/index.ts";
import {
  eraseRunner,
  markRunnersStale,
  RecordingReader,
  RecordingWriter,
  RunnerReader,
  UploadPartWriter,
} from "../../store/index.ts";
import type { Handlers } from "../app/call.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal, unusable } from "../app/refusal.ts";
import { exportRunner } from "../operations/export.ts";
import { audit } from "../use-cases/audit.ts";
import { beatList, runnerTrack } from "../use-cases/beat-track.ts";
import { checkedCount } from "../use-cases/check-count.ts";
import { painRow, reportRow } from "../use-cases/observation-rows.ts";
import { runnerToday } from "../use-cases/runner-today.ts";
import { type StoredUpload, storeUpload } from "../use-cases/store-recording.ts";
import { joinParts, keepPart, partsArrived } from "../use-cases/upload-parts.ts";
import { writeChange } from "../use-cases/write-change.ts";
import { assertOwn } from "../use-cases/own-rows.ts";

const NOTHING_LEFT = "Backups on the coach's machine are replaced one by one; until then they may hold a copy.";

/** Up to this a phone's time is kept as it was sent, so that sending again changes nothing. */
const MOST_AHEAD_MS = 6 * 3_600_000;

export function runnerPageHandlers(deps: Deps): Handlers<keyof typeof runnerPageRoutes> {
  const { store } = deps;
  const byRunner = (groupId: string) => ({ groupId, account: null, byName: "the runner" });
  /** Nothing of a runner is taken in before they agreed to it. Pain is: it protects them. */
  const consented = async (runnerId: string): Promise<void> => {
    const consent = await new RunnerReader(store.db).latestConsent(runnerId);
    if (consent?.given !== 1) throw new Refusal(403, "consent-needed", "Say first that you agree to what is sent.");
  };
  /** A phone's clock may be far ahead; what is dated into another week would be missed in this one. */
  const notLater = <T extends { readonly at: string }>(body: T): T => {
    const now = instant(deps.clock);
    return Date.parse(body.at) > Date.parse(now) + MOST_AHEAD_MS ? { ...body, at: now } : body;
  };
  const outcome = (id: string, changeId: string | null) => ({
    id,
    outcome: changeId === null ? ("already-stored" as const) : ("stored" as const),
  });

  const uploadOutcome = ({ outcome, row }: StoredUpload) => ({
    outcome,
    recordingId: row.id,
    contentSha256: row.contentSha256,
    byteCount: row.byteCount,
  });

  return {
    "GET /api/runner/today": ({ caller }) => runnerToday(deps, caller),

    "PUT /api/runner/consent": async ({ caller, body }) => {
      const row = {
        id: freshId(deps.clock),
        runnerId: caller.runnerId,
        given: body.given ? 1 : 0,
        textVersion: body.textVersion,
        location: body.location === true ? 1 : 0,
        at: body.at,
      };
      await store.write(async (trx) => {
        const latest = await new RunnerReader(trx).latestConsent(caller.runnerId);
        const same =
          latest !== undefined &&
          latest.at === row.at &&
          latest.given === row.given &&
          latest.textVersion === row.textVersion;
        if (!same) await trx.insertInto("consent").values(row).execute();
        // Half a recording is nothing that was agreed to.
        if (!body.given) await new UploadPartWriter(trx).removeAll(caller.runnerId);
      });
      return { given: body.given, textVersion: body.textVersion, at: body.at, location: body.location === true };
    },

    "GET /api/runner/beat-events": ({ caller, query }): Promise<BeatEvents> => beatList(deps, caller.runnerId, query),
    "GET /api/runner/track": ({ caller, query }) => runnerTrack(deps, caller.runnerId, query),

    "PUT /api/runner/counts/:countId": async ({ caller, params, body }) => {
      const { runnerId, groupId } = caller;
      await consented(runnerId);
      const checked = checkedCount(params.countId, runnerId, body, "runner");
      if (!checked.ok) throw unusable("This count cannot be right.", checked.problems);
      const { changeId } = await writeChange(deps, byRunner(groupId), "count sent by the runner", async (write) => {
        await assertOwn(
          write.trx.selectFrom("footCount").select("runnerId").where("id", "=", params.countId).executeTakeFirst(),
          runnerId,
        );
        await write.put("footCount", checked.value);
      });
      return outcome(params.countId, changeId);
    },

    "PUT /api/runner/recordings/:recordingId": async ({ caller, params, query, file, request }) => {
      const { runnerId, groupId } = caller;
      await consented(runnerId);
      const length = Number(request.headers["content-length"]);
      const stored = await storeUpload(
        deps,
        byRunner(groupId),
        { ...query, runnerId, recordingId: params.recordingId, by: "runner" },
        file,
        Number.isFinite(length) ? length : undefined,
      );
      return uploadOutcome(stored);
    },

    "GET /api/runner/recordings/:recordingId/parts": ({ caller, params }) =>
      partsArrived(deps, caller.runnerId, params.recordingId),

    "PUT /api/runner/recordings/:recordingId/parts/:startByte": async ({ caller, params, file }) => {
      await consented(caller.runnerId);
      return keepPart(deps, { runnerId: caller.runnerId, ...params }, file);
    },

    "POST /api/runner/recordings/:recordingId/join": async ({ caller, params, query }) => {
      const { runnerId, groupId } = caller;
      await consented(runnerId);
      const upload = { ...query, runnerId, recordingId: params.recordingId, by: "runner" as const };
      return uploadOutcome(await joinParts(deps, byRunner(groupId), upload));
    },

    "PUT /api/runner/reports/:entryId": async ({ caller, params, body }) => {
      const { runnerId } = caller;
      await consented(runnerId);
      const row = reportRow(params.entryId, runnerId, notLater(body));
      const isNew = await store.write(async (trx) => {
        const there = await trx.selectFrom("report").selectAll().where("id", "=", row.id).executeTakeFirst();
        if (there !== undefined && there.runnerId !== runnerId)
          throw new Refusal(409, "id-taken", "That id is in use elsewhere.");
        const { id, ...rest } = row;
        if (there !== undefined && JSON.stringify(there) === JSON.stringify({ ...there, ...row })) return false;
        if (there === undefined) await trx.insertInto("report").values(row).execute();
        else await trx.updateTable("report").set(rest).where("id", "=", id).execute();
        await markRunnersStale(trx, [runnerId]);
        return true;
      });
      return { id: row.id, outcome: isNew ? ("stored" as const) : ("already-stored" as const) };
    },

    "PUT /api/runner/pain/:entryId": async ({ caller, params, body }) => {
      const { runnerId, groupId } = caller;
      const row = painRow(params.entryId, runnerId, notLater(body), "runner");
      const { changeId } = await writeChange(deps, byRunner(groupId), "pain reported by the runner", async (write) => {
        await assertOwn(
          write.trx.selectFrom("pain").select("runnerId").where("id", "=", row.id).executeTakeFirst(),
          runnerId,
        );
        await write.put("pain", row);
      });
      return outcome(row.id, changeId);
    },

    "GET /api/runner/sent": async ({ caller }) => {
      const { runnerId } = caller;
      const page = await new RecordingReader(store.db).page(runnerId, { limit: 500, withExcluded: true });
      const countRows = await new RunnerReader(store.db).page("footCount", runnerId, { limit: 1 });
      const reportRows = await new RunnerReader(store.db).page("report", runnerId, { limit: 1 });
      return {
        recordings: page.items.map(({ id, fileName, byteCount, contentSha256, uploadedAt }) => ({
          id,
          fileName,
          byteCount,
          contentSha256,
          uploadedAt,
        })),
        countCount: countRows.total,
        reportCount: reportRows.total,
      };
    },

    "GET /api/runner/export.zip": async ({ caller }) => {
      const { runnerId, groupId } = caller;
      await store.write((trx) => audit(deps, trx, "runner-exported-themselves", { groupId, runnerId }));
      return { stream: exportRunner(deps, runnerId), mediaType: "application/zip", fileName: "my-spondee-data.zip" };
    },

    "DELETE /api/runner/recordings/:recordingId": async ({ caller, params }) => {
      const { runnerId, groupId } = caller;
      await store.erase(async (trx) => {
        const writer = new RecordingWriter(trx);
        if ((await writer.one(runnerId, params.recordingId)) === undefined) throw notFound("recording");
        await new UploadPartWriter(trx).remove(runnerId, params.recordingId);
        await writer.erase(params.recordingId);
        await markRunnersStale(trx, [runnerId]);
        await audit(deps, trx, "recording-erased-by-runner", { groupId, runnerId });
      });
      return { deleted: true, counts: { recording: 1 }, note: NOTHING_LEFT };
    },

    "DELETE /api/runner/me": async ({ caller }) => {
      const { runnerId, groupId } = caller;
      const counts = await store.erase(async (trx) => {
        const erased = await eraseRunner(trx, runnerId);
        await audit(deps, trx, "runner-deleted-themselves", { groupId, runnerId });
        return erased;
      });
      return { deleted: true, counts: { ...counts }, note: NOTHING_LEFT };
    },
  };
}
