// Runners: counts, baseline, proposal, plan, links. What was seen or felt is in observations.ts.
import type { runnerRoutes } from "../../api/routes/runners.ts";
import type { CountInput } from "../../api/index.ts";
import { titleShown } from "../../engine/evidence/evidence.ts";
import { protocols } from "../../engine/plan/all-protocols.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { eraseRunner, GroupReader, RunnerReader } from "../../store/index.ts";
import type { Handlers } from "../app/call.ts";
import { daysLater, freshSecret, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal, unusable } from "../app/refusal.ts";
import { onePiece } from "../app/send-file.ts";
import { exportGroup, exportRunner } from "../operations/export.ts";
import { hashSecret } from "../sign-in/secrets.ts";
import { type Acceptance, acceptProposal, layPlan } from "../use-cases/accept-proposal.ts";
import { audit } from "../use-cases/audit.ts";
import { checkedCount } from "../use-cases/check-count.ts";
import { today } from "../use-cases/dates.ts";
import { assertOwn, pageOf } from "../use-cases/own-rows.ts";
import { calendarOf } from "../use-cases/plan-calendar.ts";
import { planRow, presentPlan } from "../use-cases/plan-row.ts";
import { json, presentCount, presentLink, presentRunner } from "../use-cases/present.ts";
import { readPractice } from "../use-cases/practice.ts";
import { proposalAnswer, proposalSource } from "../use-cases/proposal.ts";
import { runnerRow } from "../use-cases/runner-row.ts";
import { runnerState } from "../use-cases/runner-state.ts";
import { readSettings } from "../use-cases/settings.ts";
import { writeChange } from "../use-cases/write-change.ts";
import { observationHandlers, type ObservationRoutes } from "./observations.ts";

const LINK_DAYS = 180;

export function runnerHandlers(
  deps: Deps,
): Omit<Handlers<keyof typeof runnerRoutes>, ObservationRoutes> & ReturnType<typeof observationHandlers> {
  const { store, clock } = deps;
  const runner = async (runnerId: string) => {
    const row = await new RunnerReader(store.db).one(runnerId);
    if (row === undefined) throw notFound("runner");
    return row;
  };
  const groupOf = async (groupId: string) => {
    const row = await new GroupReader(store.db).row(groupId);
    if (row === undefined) throw notFound("group");
    return row;
  };
  const source = async (runnerId: string) =>
    proposalSource(store.db, await runner(runnerId), await runnerState(deps, runnerId), clock.now().getTime());
  const answer = async (runnerId: string) => proposalAnswer(store.db, await source(runnerId));
  const acceptance = async (
    runnerId: string,
    decision: Acceptance["decision"],
    account: { readonly id: string; readonly displayName: string },
  ): Promise<Acceptance> => {
    const from = await source(runnerId);
    const group = await groupOf(from.runner.groupId);
    return {
      source: from,
      group,
      decision,
      today: today(clock, group.timeZone),
      at: instant(clock),
      by: { id: account.id, name: account.displayName },
    };
  };
  const planAnswer = async (runnerId: string) => {
    const row = await new RunnerReader(store.db).plan(runnerId);
    if (row === undefined) return { kind: "no-plan" as const, because: "No change was accepted yet." };
    const group = await groupOf((await runner(runnerId)).groupId);
    return presentPlan(json<Plan>(row.planJson), today(clock, group.timeZone));
  };

  return {
    ...observationHandlers(deps),

    "GET /api/runners/:runnerId": async ({ params }) => presentRunner(await runner(params.runnerId)),

    "PUT /api/groups/:groupId/runners/:runnerId": async ({ caller, params, body }) => {
      const existing = await new RunnerReader(store.db).one(params.runnerId);
      if (existing !== undefined && existing.groupId !== caller.groupId)
        throw new Refusal(409, "id-taken", "That id belongs to another group.");
      const row = runnerRow(params.runnerId, caller.groupId, body, existing?.createdAt ?? instant(clock));
      const what = existing === undefined ? "runner added" : "runner changed";
      const { changeId } = await writeChange(deps, caller, what, (write) => write.put("runner", row));
      return { item: presentRunner(row), changeId };
    },

    "DELETE /api/runners/:runnerId": async ({ caller, params }) => {
      const { runnerId } = params;
      const counts = await store.erase(async (trx) => {
        const erased = await eraseRunner(trx, runnerId);
        await audit(deps, trx, "runner-deleted", { byAccountId: caller.account.id, groupId: caller.groupId, runnerId });
        return erased;
      });
      return {
        deleted: true,
        counts: { ...counts },
        note: `The last ${deps.settings.keepBackups} backups may still hold this person; they are replaced one by one.`,
      };
    },

    "GET /api/runners/:runnerId/export.zip": async ({ caller, params }) => {
      const { runnerId } = params;
      await store.write((trx) =>
        audit(deps, trx, "runner-exported", { byAccountId: caller.account.id, groupId: caller.groupId, runnerId }),
      );
      return { stream: exportRunner(deps, runnerId), mediaType: "application/zip", fileName: "spondee-runner.zip" };
    },

    "GET /api/groups/:groupId/export.zip": async ({ caller }) => {
      const { groupId } = caller;
      await store.write((trx) => audit(deps, trx, "group-exported", { byAccountId: caller.account.id, groupId }));
      return { stream: exportGroup(deps, groupId), mediaType: "application/zip", fileName: "spondee-group.zip" };
    },

    "GET /api/runners/:runnerId/counts": async ({ params, query }) => {
      const page = await new RunnerReader(store.db).page("footCount", params.runnerId, pageOf(query));
      return { ...page, items: page.items.map(presentCount) };
    },

    "PUT /api/runners/:runnerId/counts/:countId": async ({ caller, params, body }) => {
      const { runnerId, countId } = params;
      const checked = checkedCount(countId, runnerId, body, "coach");
      if (!checked.ok) throw unusable("This count cannot be right.", checked.problems);
      const { changeId } = await writeChange(deps, caller, "count stored", async (write) => {
        await assertOwn(
          write.trx.selectFrom("footCount").select("runnerId").where("id", "=", countId).executeTakeFirst(),
          runnerId,
        );
        await write.put("footCount", checked.value);
      });
      return { item: presentCount(checked.value), changeId };
    },

    "DELETE /api/runners/:runnerId/counts/:countId": async ({ caller, params }) => {
      const { runnerId, countId } = params;
      const { changeId } = await writeChange(deps, caller, "count removed", async (write) => {
        await assertOwn(
          write.trx.selectFrom("footCount").select("runnerId").where("id", "=", countId).executeTakeFirst(),
          runnerId,
        );
        if (!(await write.remove("footCount", countId))) throw notFound("count");
      });
      return { changeId };
    },

    "PUT /api/groups/:groupId/counts": ({ caller, body }) => storeBatch(caller, body.counts),

    "GET /api/runners/:runnerId/baseline": async ({ params }) => (await runnerState(deps, params.runnerId)).baseline,

    "GET /api/runners/:runnerId/proposal": ({ params }) => answer(params.runnerId),

    "PUT /api/runners/:runnerId/proposal": async ({ caller, params, body }) => {
      const accepted = await acceptance(params.runnerId, body, caller.account);
      const { value, changeId } = await writeChange(deps, caller, "proposal accepted", (write) =>
        acceptProposal(write, accepted),
      );
      if (value !== null && !value.ok) throw unusable("The plan cannot be laid.", value.problems);
      return { item: await answer(params.runnerId), changeId };
    },

    "POST /api/groups/:groupId/proposals": async ({ caller, body }) => {
      const accepted: string[] = [];
      const skipped: { runnerId: string; because: string }[] = [];
      const ready: Acceptance[] = [];
      for (const runnerId of new Set(body.runnerIds)) {
        const row = await new RunnerReader(store.db).one(runnerId);
        if (row === undefined || row.groupId !== caller.groupId)
          skipped.push({ runnerId, because: "not in this group" });
        else ready.push(await acceptance(runnerId, {}, caller.account));
      }
      const { changeId } = await writeChange(deps, caller, "proposals accepted", async (write) => {
        accepted.length = 0;
        for (const entry of ready) {
          const { id } = entry.source.runner;
          try {
            await acceptProposal(write, entry);
            accepted.push(id);
          } catch (error) {
            if (!(error instanceof Refusal)) throw error;
            if (!skipped.some((other) => other.runnerId === id)) skipped.push({ runnerId: id, because: error.message });
          }
        }
      });
      return { accepted, skipped, changeId };
    },

    "GET /api/protocols": () => ({
      items: protocols.map(({ id, title, trained, source: from }) => ({
        id,
        title,
        summary: trained,
        source: `${from.authors} ${from.year}: ${titleShown(from)}`,
      })),
    }),

    "GET /api/runners/:runnerId/plan": ({ params }) => planAnswer(params.runnerId),

    "POST /api/runners/:runnerId/plan": async ({ caller, params, body }) => {
      const { runnerId } = params;
      const row = await new RunnerReader(store.db).accepted(runnerId);
      if (row === undefined || row.advice !== "change")
        throw new Refusal(409, "nothing-accepted", "Accept a proposal to change first.");
      const from = await source(runnerId);
      const group = await groupOf(caller.groupId);
      const now = today(clock, group.timeZone);
      const practice = await readPractice(store.db, caller.groupId);
      const plan = layPlan({ source: from, group, today: now }, json(row.proposalJson), body, practice);
      if (!plan.ok) throw unusable("The plan cannot be laid.", plan.problems);
      const { changeId } = await writeChange(deps, caller, "plan made anew", (write) =>
        write.put("plan", planRow(runnerId, plan.value, now, instant(clock))),
      );
      return { item: await planAnswer(runnerId), changeId };
    },

    "GET /api/runners/:runnerId/plan.ics": async ({ caller, params }) => {
      const row = await new RunnerReader(store.db).plan(params.runnerId);
      if (row === undefined) throw notFound("plan");
      const group = await groupOf(caller.groupId);
      const owner = { runnerId: params.runnerId, plan: json<Plan>(row.planJson) };
      return {
        stream: onePiece(
          calendarOf(group.name, [owner], group.timeZone, instant(clock), readSettings(group.settingsJson).eveningTime),
        ),
        mediaType: "text/calendar; charset=utf-8",
        fileName: "plan.ics",
      };
    },

    "GET /api/runners/:runnerId/links": async ({ params }) => ({
      items: (await new RunnerReader(store.db).links(params.runnerId)).map((row) => presentLink(row, instant(clock))),
    }),

    "PUT /api/runners/:runnerId/links/:linkId": async ({ caller, params, body }) => {
      const { runnerId, linkId } = params;
      const token = freshSecret(clock);
      const row = {
        id: linkId,
        runnerId,
        tokenHash: hashSecret(token),
        createdAt: instant(clock),
        expiresAt: body.expiresAt ?? daysLater(clock, LINK_DAYS),
        revokedAt: null,
        lastUsedAt: null,
      };
      await store.write(async (trx) => {
        const there = await trx.selectFrom("runnerLink").select("id").where("id", "=", linkId).executeTakeFirst();
        if (there !== undefined)
          throw new Refusal(409, "link-exists", "A link's token is shown once. Make a new link.");
        await trx.insertInto("runnerLink").values(row).execute();
        await audit(deps, trx, "link-made", { byAccountId: caller.account.id, groupId: caller.groupId, runnerId });
      });
      return { link: presentLink(row, instant(clock)), token, address: `/run/#${token}` };
    },

    "DELETE /api/runners/:runnerId/links/:linkId": async ({ caller, params }) => {
      const { runnerId, linkId } = params;
      const now = instant(clock);
      const row = await store.write(async (trx) => {
        const link = await trx
          .selectFrom("runnerLink")
          .selectAll()
          .where("id", "=", linkId)
          .where("runnerId", "=", runnerId)
          .executeTakeFirst();
        if (link === undefined) throw notFound("link");
        const revokedAt = link.revokedAt ?? now;
        await trx.updateTable("runnerLink").set({ revokedAt }).where("id", "=", linkId).execute();
        await audit(deps, trx, "link-revoked", { byAccountId: caller.account.id, groupId: caller.groupId, runnerId });
        return { ...link, revokedAt };
      });
      return presentLink(row, now);
    },
  };

  async function storeBatch(
    caller: Parameters<typeof writeChange>[1],
    counts: readonly { readonly id: string; readonly runnerId: string; readonly count: CountInput }[],
  ) {
    const known = new Set((await new RunnerReader(store.db).ofGroup(caller.groupId)).map((row) => row.id));
    const { value: outcomes, changeId } = await writeChange(deps, caller, "counts stored", async (write) => {
      const made = [];
      for (const { id, runnerId, count } of counts) {
        const checked = checkedCount(id, runnerId, count, "coach");
        const refused = (problems: typeof checked extends infer _ ? ReturnType<typeof foreign>[] : never) => ({
          id,
          outcome: "refused" as const,
          problems,
          warnings: [],
        });
        const there = await write.trx
          .selectFrom("footCount")
          .select("runnerId")
          .where("id", "=", id)
          .executeTakeFirst();
        if (!known.has(runnerId) || (there !== undefined && there.runnerId !== runnerId))
          made.push(refused([foreign(runnerId)]));
        else if (!checked.ok)
          made.push(refused(checked.problems.map((problem) => ({ ...problem, where: { ...problem.where } }))));
        else {
          const changed = await write.put("footCount", checked.value);
          const outcome = changed ? ("stored" as const) : ("already-stored" as const);
          made.push({ id, outcome, problems: [], warnings: presentCount(checked.value).warnings });
        }
      }
      return made;
    });
    return { outcomes, changeId };
  }
}

function foreign(runnerId: string) {
  return {
    code: "not-in-group",
    where: { field: "runnerId" } as { field?: string },
    got: runnerId,
    expected: "a runner of this group",
    remedy: "Fetch the roster again.",
  };
}
