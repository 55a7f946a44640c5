// The kinds of job there are.
import { addJob, RecordingReader, RecordingWriter, markRunnersStale } from "../../store/index.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { json } from "../use-cases/present.ts";
import { analysisColumns } from "../use-cases/store-recording.ts";
import type { JobHandler } from "./job-runner.ts";
import { sendMail } from "./send-mail.ts";
import { tidy } from "./tidy.ts";

const PAGE = 200;

/** A mail server that hangs keeps no recording waiting. */
export const OWN_LANES: readonly string[] = ["send-mail"];

export function jobHandlers(deps: Omit<Deps, "wakeJobs">): Readonly<Record<string, JobHandler>> {
  const full = { ...deps, wakeJobs: () => undefined };
  return {
    /** Reads a recording again, with its present labels and this engine. */
    analyse: (payload) => analyseAgain(full, payload as { recordingId: string }),
    /** Finds what another engine version read and asks for each to be read again, a page at a time. */
    "find-outdated": (payload) => findOutdated(full, payload as { after: string }),
    /** Sends the messages that are due. */
    "send-mail": (_, stopping) => sendMail(full, stopping),
    tidy: () => tidy(full),
  };
}

async function analyseAgain(deps: Deps, payload: { readonly recordingId: string }): Promise<void> {
  const { recordingId } = payload;
  const row = await deps.store.db.selectFrom("recording").selectAll().where("id", "=", recordingId).executeTakeFirst();
  if (row === undefined) return;
  const pieces: Uint8Array[] = [];
  for await (const piece of new RecordingReader(deps.store.db).bytes(recordingId)) pieces.push(piece);
  const analysed = await deps.analyst.readFile(Buffer.concat(pieces), {
    fileName: row.fileName,
    surface: row.surface,
    trimStartS: row.trimStartS,
    trimEndS: row.trimEndS,
    cueBlocks: row.cueBlocksJson === null ? [] : json(row.cueBlocksJson),
  });
  const columns = analysed.ok
    ? await analysisColumns(deps, recordingId, analysed.value)
    : {
        recordingId,
        engineVersion: deps.analyst.engineVersion,
        state: "unreadable" as const,
        computedAt: instant(deps.clock),
        problemsJson: JSON.stringify(analysed.problems),
        warningsJson: "[]",
        summaryJson: null,
        windowsJson: "[]",
        traceGzip: null,
      };
  await deps.store.write(async (trx) => {
    // Deleted meanwhile: nothing of it may come back.
    if ((await trx.selectFrom("recording").select("id").where("id", "=", recordingId).executeTakeFirst()) === undefined)
      return;
    await new RecordingWriter(trx).putAnalysis(columns);
    await markRunnersStale(trx, [row.runnerId]);
  });
}

async function findOutdated(deps: Deps, payload: { readonly after: string }): Promise<void> {
  const stale = await new RecordingReader(deps.store.db).staleIds(deps.analyst.engineVersion, payload.after, PAGE);
  const last = stale.at(-1);
  await deps.store.write(async (trx) => {
    const at = instant(deps.clock);
    for (const { id } of stale)
      await addJob(trx, {
        id: freshId(deps.clock),
        jobKey: `analyse:${id}`,
        kind: "analyse",
        payload: { recordingId: id },
        at,
      });
    if (stale.length === PAGE && last !== undefined)
      await addJob(trx, {
        id: freshId(deps.clock),
        jobKey: `find-outdated:${last.id}`,
        kind: "find-outdated",
        payload: { after: last.id },
        at,
      });
  });
}
