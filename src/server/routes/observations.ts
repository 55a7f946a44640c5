// Pain, form notes, frames of clips, reports: dated entries of one runner.
import type { runnerRoutes } from "../../api/routes/runners.ts";
import { RunnerReader } from "../../store/index.ts";
import type { Handlers } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { formNoteRow, painRow, videoRow } from "../use-cases/observation-rows.ts";
import { presentFormNote, presentPain, presentReport, presentVideo } from "../use-cases/present.ts";
import { type Author, writeChange } from "../use-cases/write-change.ts";
import { assertOwn, pageOf } from "../use-cases/own-rows.ts";

export type ObservationRoutes = Extract<
  keyof typeof runnerRoutes,
  | `${string}/pain${string}`
  | `${string}/form-notes${string}`
  | `${string}/video-measures${string}`
  | `${string}/reports`
>;

export function observationHandlers(deps: Deps): Handlers<ObservationRoutes> {
  const reader = () => new RunnerReader(deps.store.db);
  const remove = async (table: "pain" | "formNote" | "videoMeasure", author: Author, runnerId: string, id: string) => {
    const { changeId } = await writeChange(deps, author, `${words[table]} removed`, async (write) => {
      await assertOwn(write.trx.selectFrom(table).select("runnerId").where("id", "=", id).executeTakeFirst(), runnerId);
      if (!(await write.remove(table, id))) throw notFound("entry");
    });
    return { changeId };
  };
  const words = { pain: "pain entry", formNote: "form note", videoMeasure: "clip marks" } as const;

  return {
    "GET /api/runners/:runnerId/reports": async ({ params, query }) => {
      const page = await reader().page("report", params.runnerId, pageOf(query));
      return { ...page, items: page.items.map(presentReport) };
    },
    "GET /api/runners/:runnerId/pain": async ({ params, query }) => {
      const page = await reader().page("pain", params.runnerId, pageOf(query));
      return { ...page, items: page.items.map(presentPain) };
    },
    "PUT /api/runners/:runnerId/pain/:entryId": async ({ caller, params, body }) => {
      const { runnerId, entryId } = params;
      const row = painRow(entryId, runnerId, body, "coach");
      const { changeId } = await writeChange(deps, caller, "pain logged", async (write) => {
        await assertOwn(
          write.trx.selectFrom("pain").select("runnerId").where("id", "=", entryId).executeTakeFirst(),
          runnerId,
        );
        await write.put("pain", row);
      });
      return { item: presentPain(row), changeId };
    },
    "DELETE /api/runners/:runnerId/pain/:entryId": ({ caller, params }) =>
      remove("pain", caller, params.runnerId, params.entryId),
    "GET /api/runners/:runnerId/form-notes": async ({ params, query }) => {
      const page = await reader().page("formNote", params.runnerId, pageOf(query));
      return { ...page, items: page.items.map(presentFormNote) };
    },
    "PUT /api/runners/:runnerId/form-notes/:entryId": async ({ caller, params, body }) => {
      const { runnerId, entryId } = params;
      const row = formNoteRow(entryId, runnerId, body);
      const { changeId } = await writeChange(deps, caller, "form noted", async (write) => {
        await assertOwn(
          write.trx.selectFrom("formNote").select("runnerId").where("id", "=", entryId).executeTakeFirst(),
          runnerId,
        );
        await write.put("formNote", row);
      });
      return { item: presentFormNote(row), changeId };
    },
    "DELETE /api/runners/:runnerId/form-notes/:entryId": ({ caller, params }) =>
      remove("formNote", caller, params.runnerId, params.entryId),
    "GET /api/runners/:runnerId/video-measures": async ({ params, query }) => {
      const page = await reader().page("videoMeasure", params.runnerId, pageOf(query));
      return { ...page, items: page.items.map(presentVideo) };
    },
    "PUT /api/runners/:runnerId/video-measures/:entryId": async ({ caller, params, body }) => {
      const { runnerId, entryId } = params;
      const row = videoRow(entryId, runnerId, body);
      const { changeId } = await writeChange(deps, caller, "clip marks stored", async (write) => {
        await assertOwn(
          write.trx.selectFrom("videoMeasure").select("runnerId").where("id", "=", entryId).executeTakeFirst(),
          runnerId,
        );
        await write.put("videoMeasure", row);
      });
      return { item: presentVideo(row), changeId };
    },
    "DELETE /api/runners/:runnerId/video-measures/:entryId": ({ caller, params }) =>
      remove("videoMeasure", caller, params.runnerId, params.entryId),
  };
}
