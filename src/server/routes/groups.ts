// Groups, roster, settings, attendance, history and undo.
import type { groupRoutes } from "../../api/routes/groups.ts";
import type { GroupInput } from "../../api/index.ts";
import {
  AccountReader,
  ChangeReader,
  eraseGroup,
  GroupReader,
  isForeignKeyFailure,
  readRoster,
  RunnerReader,
  undoChange,
  WeekReader,
} from "../../store/index.ts";
import type { Handlers } from "../app/call.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal, unusable } from "../app/refusal.ts";
import { onePiece } from "../app/send-file.ts";
import { seedDemoGroup } from "../demo/seed-demo.ts";
import { audit } from "../use-cases/audit.ts";
import { presentChange, presentGroup, presentRunner } from "../use-cases/present.ts";
import { programmeResult, resultsCsv } from "../use-cases/programme-result.ts";
import { previewRoster, rosterCsv } from "../use-cases/roster-csv.ts";
import { presentRoster } from "../use-cases/roster-row.ts";
import { freshenGroup } from "../use-cases/runner-state.ts";
import { runnerRow } from "../use-cases/runner-row.ts";
import { changeSettings, readSettings, settingsProblems } from "../use-cases/settings.ts";
import { writeChange } from "../use-cases/write-change.ts";

const BACKUPS_KEEP = "Backups made before still hold it until they are rotated out.";

export function groupHandlers(deps: Deps): Handlers<keyof typeof groupRoutes> {
  const { store, clock } = deps;
  const one = async (groupId: string, accountId: string) => {
    const row = await new GroupReader(store.db).one(groupId, accountId);
    if (row === undefined) throw notFound("group");
    return presentGroup(row);
  };
  const settingsOf = async (groupId: string) => {
    const row = await new GroupReader(store.db).row(groupId);
    if (row === undefined) throw notFound("group");
    return row;
  };
  const erase = async (groupId: string, accountId: string) => {
    const counts = await store.erase(async (trx) => {
      const erased = await eraseGroup(trx, groupId);
      await audit(deps, trx, "group-deleted", { byAccountId: accountId, groupId });
      return erased;
    });
    return { deleted: true, counts: { ...counts }, note: BACKUPS_KEEP };
  };
  const runners = async (groupId: string) =>
    (await new RunnerReader(store.db).ofGroup(groupId)).filter((row) => row.archived === 0).map(presentRunner);

  return {
    "GET /api/groups": async ({ caller, query }) => {
      const page = await new GroupReader(store.db).listOf(caller.account.id, {
        limit: query.limit ?? 100,
        archived: query.archived ?? false,
        ...(query.after === undefined ? {} : { after: query.after }),
      });
      return { ...page, items: page.items.map(presentGroup) };
    },

    "GET /api/groups/:groupId": ({ caller, params }) => one(params.groupId, caller.account.id),

    "PUT /api/groups/:groupId": async ({ caller, params, body }) => {
      const { account } = caller;
      const { groupId } = params;
      const existing = await new GroupReader(store.db).row(groupId);
      const role = await new AccountReader(store.db).role(groupId, account.id);
      if (existing !== undefined && role === undefined) throw notFound("group");
      if (existing !== undefined && role !== "coach")
        throw new Refusal(403, "coach-only", "Assistants cannot do that; ask a coach of the group.");
      const what = existing === undefined ? "group added" : "group changed";
      const { changeId } = await writeChange(deps, { groupId, account }, what, async (write) => {
        await write.put("coachGroup", {
          ...groupColumns(body),
          id: groupId,
          invented: existing?.invented ?? 0,
          settingsJson: existing?.settingsJson ?? "{}",
          createdAt: existing?.createdAt ?? instant(clock),
        });
        if (existing === undefined)
          await write.put("member", { id: `${groupId}/${account.id}`, groupId, accountId: account.id, role: "coach" });
      });
      return { item: await one(groupId, account.id), changeId };
    },

    "DELETE /api/groups/:groupId": ({ caller }) => erase(caller.groupId, caller.account.id),

    "POST /api/demo": async ({ caller }) => {
      const there = await new GroupReader(store.db).invented(caller.account.id);
      return { groupId: there?.id ?? (await seedDemoGroup(deps, caller.account)) };
    },

    "DELETE /api/demo": async ({ caller }) => {
      const there = await new GroupReader(store.db).invented(caller.account.id);
      if (there === undefined || there.role !== "coach") throw notFound("demo group");
      return erase(there.id, caller.account.id);
    },

    "GET /api/groups/:groupId/roster": async ({ params, query }) => {
      await freshenGroup(deps, params.groupId);
      const page = await readRoster(store.db, {
        groupId: params.groupId,
        limit: query.limit ?? 100,
        sort: query.sort ?? "name",
        descending: query.descending ?? false,
        archived: query.archived ?? false,
        ...(query.remote === undefined ? {} : { remote: query.remote }),
        ...(query.search === undefined ? {} : { search: query.search }),
        ...(query.after === undefined ? {} : { after: query.after }),
      });
      return { ...page, items: await presentRoster(store.db, params.groupId, page.items, deps.clock.now().getTime()) };
    },

    "POST /api/groups/:groupId/roster/preview": async ({ params, body }) =>
      previewRoster(body.csv, await new RunnerReader(store.db).ofGroup(params.groupId), body.columns),

    "POST /api/groups/:groupId/roster": async ({ caller, body }) => {
      const { value, changeId } = await writeChange(deps, caller, "roster imported", async (write) => {
        let added = 0;
        const now = instant(clock);
        for (const { id, runner } of body.runners) {
          const there = await new RunnerReader(write.trx).one(id);
          if (there !== undefined && there.groupId !== caller.groupId)
            throw new Refusal(409, "id-taken", "One of these ids belongs to another group.");
          if (there !== undefined) continue;
          await write.put("runner", runnerRow(id, caller.groupId, runner, now));
          added += 1;
        }
        return added;
      });
      return { added: value, changeId };
    },

    "GET /api/groups/:groupId/roster.csv": async ({ params }) => ({
      stream: onePiece(rosterCsv(await runners(params.groupId))),
      mediaType: "text/csv; charset=utf-8",
      fileName: "roster.csv",
    }),

    "GET /api/groups/:groupId/results": ({ params }) => programmeResult(deps, params.groupId),

    "GET /api/groups/:groupId/results.csv": async ({ params }) => ({
      stream: onePiece(resultsCsv(await programmeResult(deps, params.groupId))),
      mediaType: "text/csv; charset=utf-8",
      fileName: "results.csv",
    }),

    "GET /api/groups/:groupId/settings": async ({ params }) =>
      readSettings((await settingsOf(params.groupId)).settingsJson),

    "PUT /api/groups/:groupId/settings": async ({ caller, body }) => {
      const problems = settingsProblems(body);
      if (problems.length > 0) throw unusable("Some settings are outside what is possible.", problems);
      const row = await settingsOf(caller.groupId);
      const settingsJson = changeSettings(row.settingsJson, body);
      const { changeId } = await writeChange(deps, caller, "settings changed", (write) =>
        write.put("coachGroup", { ...row, settingsJson }),
      );
      return { item: readSettings(settingsJson), changeId };
    },

    "GET /api/groups/:groupId/evenings/:on/attendance": async ({ params }) => ({
      on: params.on,
      marks: await marksOf(params.groupId, params.on),
    }),

    "PUT /api/groups/:groupId/evenings/:on/attendance": async ({ caller, params, body }) => {
      const { groupId } = caller;
      const known = new Set((await new RunnerReader(store.db).ofGroup(groupId)).map((row) => row.id));
      if (body.marks.some((mark) => !known.has(mark.runnerId))) throw notFound("runner in this group");
      const { changeId } = await writeChange(deps, caller, "attendance marked", async (write) => {
        for (const { runnerId, presence } of body.marks)
          await write.put("attendance", {
            id: `${runnerId}/${params.on}`,
            groupId,
            runnerId,
            onDate: params.on,
            presence,
          });
      });
      return { item: { on: params.on, marks: await marksOf(groupId, params.on) }, changeId };
    },

    "GET /api/groups/:groupId/changes": async ({ params, query }) => {
      const page = await new ChangeReader(store.db).page(params.groupId, {
        limit: query.limit ?? 50,
        ...(query.runnerId === undefined ? {} : { runnerId: query.runnerId }),
        ...(query.after === undefined ? {} : { after: query.after }),
      });
      return { ...page, items: page.items.map(presentChange) };
    },

    "GET /api/groups/:groupId/changes/:changeId": async ({ params }) => {
      const reader = new ChangeReader(store.db);
      const change = await reader.one(params.groupId, params.changeId);
      if (change === undefined) throw notFound("change");
      const rows = (await reader.rows(change.id)).map((row) => ({
        table: row.tableName,
        rowId: row.rowId,
        before: row.beforeJson === null ? null : (JSON.parse(row.beforeJson) as unknown),
        after: row.afterJson === null ? null : (JSON.parse(row.afterJson) as unknown),
      }));
      return { change: presentChange(change), rows };
    },

    "POST /api/groups/:groupId/changes/:changeId/undo": async ({ caller, params }) => {
      const change = await new ChangeReader(store.db).one(params.groupId, params.changeId);
      if (change === undefined) throw notFound("change");
      if (caller.role !== "coach" && change.byAccountId !== caller.account.id)
        throw new Refusal(403, "coach-only", "Assistants can undo only what they did themselves.");
      const conflict = new Refusal(409, "changed-since", "It has been changed again since, so it cannot be undone.");
      try {
        const { changeId } = await writeChange(
          deps,
          caller,
          `undone: ${change.what}`.slice(0, 200),
          async (write) => {
            const outcome = await undoChange(write, params.changeId);
            if (outcome.kind === "missing") throw notFound("change");
            if (outcome.kind === "already-undone")
              throw new Refusal(409, "already-undone", "That has been undone already.");
            if (outcome.kind === "conflict") throw conflict;
          },
          params.changeId,
        );
        return { changeId };
      } catch (error) {
        if (isForeignKeyFailure(error)) throw conflict;
        throw error;
      }
    },
  };

  async function marksOf(groupId: string, on: string) {
    const rows = await new WeekReader(store.db).attendance(groupId, on);
    return rows.map(({ runnerId, presence }) => ({ runnerId, presence }));
  }
}

function groupColumns(input: GroupInput) {
  return {
    name: input.name,
    startsOn: input.startsOn,
    weeks: input.weeks,
    eveningWeekday: input.eveningWeekday,
    timeZone: knownZone(input.timeZone),
    holidaysJson: JSON.stringify([...(input.holidays ?? [])].sort()),
    raceDate: input.raceDate ?? null,
    note: input.note ?? "",
    archived: input.archived === true ? 1 : 0,
  };
}

function knownZone(zone: string | undefined): string {
  if (zone === undefined) return Intl.DateTimeFormat().resolvedOptions().timeZone;
  try {
    return new Intl.DateTimeFormat("en", { timeZone: zone }).resolvedOptions().timeZone;
  } catch {
    throw unusable("The time zone is not known.", [
      {
        code: "unknown-time-zone",
        where: { field: "timeZone" },
        got: zone,
        expected: "an IANA time zone",
        remedy: "Leave it out.",
      },
    ]);
  }
}
