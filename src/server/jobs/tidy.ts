// Once a day: what has served its time goes. Old sessions, old history with the bytes of removed recordings, the audit.
import { sql } from "kysely";
import { daysLater, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { json } from "../use-cases/present.ts";
import { stageOn } from "../use-cases/plan-row.ts";
import { UploadPartWriter } from "../../store/index.ts";
import type { Plan } from "../../engine/plan/plan.ts";

/** How long a change can be undone, and a removed recording's bytes stay. */
const UNDO_DAYS = 30;
const AUDIT_DAYS = 730;
/** A recording of which no part came for so long was given up by its phone. */
const UNFINISHED_DAYS = 30;

export async function tidy(deps: Deps): Promise<void> {
  const now = instant(deps.clock);
  await deps.store.write(async (trx) => {
    await trx.deleteFrom("signInSession").where("expiresAt", "<=", now).execute();
    await trx.deleteFrom("wrongGuess").where("freeAt", "<=", daysLater(deps.clock, -1)).execute();
    await trx.deleteFrom("oneTimeCode").where("expiresAt", "<=", now).execute();
    await new UploadPartWriter(trx).removeOlderThan(daysLater(deps.clock, -UNFINISHED_DAYS));
    await trx.deleteFrom("audit").where("at", "<", daysLater(deps.clock, -AUDIT_DAYS)).execute();
  });
  await deps.store.write(async (trx) => {
    const old = trx.selectFrom("change").select("id").where("at", "<", daysLater(deps.clock, -UNDO_DAYS));
    await trx
      .updateTable("changeRow")
      .set({ beforeJson: null, afterJson: null })
      .where("changeId", "in", old)
      .execute();
    // Bytes and analyses without a recording, of which no change could bring it back.
    for (const table of ["recordingChunk", "analysis"] as const)
      await trx
        .deleteFrom(table)
        .where((build) =>
          build.not(
            build.exists(
              build
                .selectFrom("recording")
                .select("recording.id")
                .whereRef("recording.id", "=", sql.ref(`${table}.recordingId`)),
            ),
          ),
        )
        .where((build) =>
          build.not(
            build.exists(
              build
                .selectFrom("changeRow")
                .select("changeRow.rowId")
                .where("changeRow.tableName", "=", "recording")
                .whereRef("changeRow.rowId", "=", sql.ref(`${table}.recordingId`))
                .where("changeRow.beforeJson", "is not", null),
            ),
          ),
        )
        .execute();
  });
  await moveStages(deps, now);
}

/** The current stage of each plan, for sorting a roster by target, moves with the calendar. */
async function moveStages(deps: Deps, now: string): Promise<void> {
  const plans = await deps.store.db.selectFrom("plan").select(["id", "planJson", "currentStageIndex"]).execute();
  for (const row of plans) {
    const stage = stageOn(json<Plan>(row.planJson), now.slice(0, 10));
    if (stage === undefined || stage.index === row.currentStageIndex) continue;
    await deps.store.write((trx) =>
      trx
        .updateTable("plan")
        .set({ currentStageIndex: stage.index, currentSpm: stage.stepRateSpm })
        .where("id", "=", row.id)
        .where("planJson", "=", row.planJson)
        .execute(),
    );
  }
}
