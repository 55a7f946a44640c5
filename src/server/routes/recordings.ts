// Recordings: send, look at, relabel; and what they prove.
import { promisify } from "node:util";
import { gunzip } from "node:zlib";
import type { recordingRoutes } from "../../api/routes/recordings.ts";
import { addJob, RecordingReader, RunnerReader } from "../../store/index.ts";
import { presentSplit } from "../analysis/evaluate-runner.ts";
import { thinTrace, type Trace } from "../analysis/make-trace.ts";
import type { Handlers } from "../app/call.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, unusable } from "../app/refusal.ts";
import { json, presentRecording } from "../use-cases/present.ts";
import { evaluationInput } from "../use-cases/evaluation-input.ts";
import { runnerState } from "../use-cases/runner-state.ts";
import { storeUpload } from "../use-cases/store-recording.ts";
import { writeChange } from "../use-cases/write-change.ts";
import { pageOf } from "../use-cases/own-rows.ts";

const unzip = promisify(gunzip);
const EMPTY_TRACE: Trace = { timeS: [], stepRateSpm: [], speedMps: [], slope: [], stepLengthM: [], heartRateBpm: [] };
const DEFAULT_POINTS = 12_000;

export function recordingHandlers(deps: Deps): Handlers<keyof typeof recordingRoutes> {
  const { store, clock } = deps;
  const one = async (runnerId: string, recordingId: string) => {
    const row = await new RecordingReader(store.db).one(runnerId, recordingId);
    if (row === undefined) throw notFound("recording");
    return row;
  };

  return {
    "GET /api/runners/:runnerId/recordings": async ({ params, query }) => {
      const page = await new RecordingReader(store.db).page(params.runnerId, {
        ...pageOf(query),
        withExcluded: query.withExcluded ?? true,
        ...(query.phase === undefined ? {} : { phase: query.phase }),
      });
      return { ...page, items: page.items.map(presentRecording) };
    },

    "PUT /api/runners/:runnerId/recordings/:recordingId": async ({ caller, params, query, file, request }) => {
      const length = Number(request.headers["content-length"]);
      const stored = await storeUpload(
        deps,
        caller,
        { ...query, ...params, by: "coach" },
        file,
        Number.isFinite(length) ? length : undefined,
      );
      return { outcome: stored.outcome, recording: presentRecording(stored.row) };
    },

    "GET /api/runners/:runnerId/recordings/:recordingId": async ({ params, query }) => {
      const row = await one(params.runnerId, params.recordingId);
      const detail = await new RecordingReader(store.db).detail(row.id);
      const trace =
        detail?.traceGzip === undefined || detail.traceGzip === null
          ? EMPTY_TRACE
          : json<Trace>((await unzip(detail.traceGzip)).toString("utf8"));
      const thin = thinTrace(trace, query.maxPoints ?? DEFAULT_POINTS);
      return {
        recording: presentRecording(row),
        windows: detail === undefined ? [] : json(detail.windowsJson),
        trace: {
          timeS: [...thin.timeS],
          stepRateSpm: [...thin.stepRateSpm],
          speedMps: [...thin.speedMps],
          slope: [...thin.slope],
          stepLengthM: [...thin.stepLengthM],
          heartRateBpm: [...thin.heartRateBpm],
        },
      };
    },

    "PATCH /api/runners/:runnerId/recordings/:recordingId": async ({ caller, params, body }) => {
      const { runnerId, recordingId } = params;
      const trimStartS = body.trimStartS ?? 0;
      const trimEndS = body.trimEndS ?? null;
      if (trimEndS !== null && trimEndS <= trimStartS)
        throw unusable("Nothing would be left of the recording.", [
          {
            code: "trim-empty",
            where: { field: "trimEndS" },
            got: `${trimStartS} s to ${trimEndS} s`,
            expected: "an end after the start",
            remedy: "Move the end behind the start.",
          },
        ]);
      const { changeId } = await writeChange(deps, caller, "recording relabelled", async (write) => {
        const row = await write.trx
          .selectFrom("recording")
          .selectAll()
          .where("id", "=", recordingId)
          .where("runnerId", "=", runnerId)
          .executeTakeFirst();
        if (row === undefined) throw notFound("recording");
        const cueBlocksJson =
          body.cueBlocks === undefined
            ? row.cueBlocksJson
            : body.cueBlocks.length === 0
              ? null
              : JSON.stringify([...body.cueBlocks].sort((a, b) => a.startS - b.startS));
        const next = {
          ...row,
          phase: body.phase,
          surface: body.surface,
          excluded: body.excluded ? 1 : 0,
          excludedReason: body.excludedReason ?? "",
          trimStartS,
          trimEndS,
          cueBlocksJson,
          effortRating: body.effortRating === undefined ? row.effortRating : body.effortRating,
          note: body.note ?? row.note,
        };
        await write.put("recording", next);
        const readAgain =
          next.surface !== row.surface ||
          next.cueBlocksJson !== row.cueBlocksJson ||
          next.trimStartS !== row.trimStartS ||
          next.trimEndS !== row.trimEndS;
        if (!readAgain) return;
        // The key holds the change: a job that is being done now may have read the labels before it.
        const jobKey = `analyse:${recordingId}:${write.context.changeId}`;
        await addJob(write.trx, {
          id: freshId(clock),
          jobKey,
          kind: "analyse",
          payload: { recordingId },
          at: instant(clock),
        });
      });
      deps.wakeJobs();
      return { item: presentRecording(await one(runnerId, recordingId)), changeId };
    },

    "DELETE /api/runners/:runnerId/recordings/:recordingId": async ({ caller, params }) => {
      const { runnerId, recordingId } = params;
      await one(runnerId, recordingId);
      const { changeId } = await writeChange(deps, caller, "recording removed", (write) =>
        write.remove("recording", recordingId),
      );
      return { changeId };
    },

    "GET /api/runners/:runnerId/recordings/:recordingId/file": async ({ params }) => {
      const row = await one(params.runnerId, params.recordingId);
      return {
        stream: new RecordingReader(store.db).bytes(row.id),
        mediaType: "application/octet-stream",
        fileName: row.fileName,
        byteCount: row.byteCount,
      };
    },

    "GET /api/runners/:runnerId/comparison": async ({ params, query }) => {
      if (query.atSpeedMps === undefined && query.surface === undefined)
        return (await runnerState(deps, params.runnerId)).comparison;
      const input = await evaluationInput(store.db, params.runnerId);
      const { surface, atSpeedMps } = query;
      const recordings =
        surface === undefined ? input.recordings : input.recordings.filter((entry) => entry.surface === surface);
      const state = await deps.analyst.evaluate({
        ...input,
        recordings,
        ...(atSpeedMps === undefined ? {} : { atSpeedMps }),
      });
      return state.comparison;
    },

    "GET /api/runners/:runnerId/runs": async ({ params }) => {
      if ((await new RunnerReader(store.db).one(params.runnerId)) === undefined) throw notFound("runner");
      const state = await runnerState(deps, params.runnerId);
      return {
        referenceSpeedMps: state.referenceSpeedMps,
        items: state.runs.map((run) => ({
          recordingId: run.recordingId,
          startedAt: run.startedAt,
          speedMps: run.speedMps,
          stepRateSpm: run.stepRateSpm,
          matchedChangeSpm: run.matchedChangeSpm,
          split: run.split === null ? null : presentSplit(run.split),
          lateRunDropSpm: run.lateRunDropSpm,
          inBandShare: run.inBandShare,
        })),
      };
    },
  };
}
