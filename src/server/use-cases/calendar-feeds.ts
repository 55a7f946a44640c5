// Addresses that a calendar asks by itself: unguessable, scoped to one runner or one group, revocable at once.
import type { Feed } from "../../api/index.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { type CalendarFeedRow, GroupReader, HandOutReader, RunnerReader, WeekReader } from "../../store/index.ts";
import type { MemberOf } from "../app/call.ts";
import { freshSecret, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal } from "../app/refusal.ts";
import { hashSecret } from "../sign-in/secrets.ts";
import { audit } from "./audit.ts";
import { calendarOf } from "./plan-calendar.ts";
import { json } from "./present.ts";
import { readSettings } from "./settings.ts";

export function presentFeed({ id, runnerId, createdAt, revokedAt, lastUsedAt }: CalendarFeedRow): Feed {
  return { id, runnerId, createdAt, revokedAt, lastUsedAt, live: revokedAt === null };
}

export async function makeFeed(deps: Deps, caller: MemberOf, feedId: string, runnerId: string | null) {
  const { groupId } = caller;
  if (runnerId !== null && (await new RunnerReader(deps.store.db).one(runnerId))?.groupId !== groupId)
    throw notFound("runner in this group");
  const token = freshSecret(deps.clock);
  const row: CalendarFeedRow = {
    id: feedId,
    groupId,
    runnerId,
    tokenHash: hashSecret(token),
    createdAt: instant(deps.clock),
    revokedAt: null,
    lastUsedAt: null,
  };
  await deps.store.write(async (trx) => {
    const there = await trx.selectFrom("calendarFeed").select("id").where("id", "=", feedId).executeTakeFirst();
    if (there !== undefined) throw new Refusal(409, "feed-exists", "A calendar address is shown once. Make a new one.");
    await trx.insertInto("calendarFeed").values(row).execute();
    const about = { byAccountId: caller.account.id, groupId, ...(runnerId === null ? {} : { runnerId }) };
    await audit(deps, trx, "feed-made", about);
  });
  return { feed: presentFeed(row), address: `/api/calendar/${token}` };
}

export async function revokeFeed(deps: Deps, caller: MemberOf, feedId: string): Promise<Feed> {
  const row = await deps.store.write(async (trx) => {
    const feed = await trx
      .selectFrom("calendarFeed")
      .selectAll()
      .where("id", "=", feedId)
      .where("groupId", "=", caller.groupId)
      .executeTakeFirst();
    if (feed === undefined) throw notFound("calendar address");
    const revokedAt = feed.revokedAt ?? instant(deps.clock);
    await trx.updateTable("calendarFeed").set({ revokedAt }).where("id", "=", feedId).execute();
    await audit(deps, trx, "feed-revoked", { byAccountId: caller.account.id, groupId: caller.groupId });
    return { ...feed, revokedAt };
  });
  return presentFeed(row);
}

/** The calendar behind an address. A stopped or missing plan gives an empty one: the calendar then takes the events away. */
export async function feedText(deps: Deps, token: string): Promise<string> {
  const { db } = deps.store;
  const feed = await new HandOutReader(db).feedByToken(hashSecret(token));
  if (feed === undefined || feed.revokedAt !== null) throw notFound("calendar");
  const now = instant(deps.clock);
  // To the hour: enough for the coach to see that it is used.
  if (feed.lastUsedAt === null || feed.lastUsedAt.slice(0, 13) !== now.slice(0, 13))
    await deps.store.write((trx) =>
      trx.updateTable("calendarFeed").set({ lastUsedAt: now }).where("id", "=", feed.id).execute(),
    );
  return calendarText(deps, feed.groupId, feed.runnerId, now);
}

/** One runner's sessions, or everyone's with the names in front when `runnerId` is null. */
export async function calendarText(deps: Deps, groupId: string, runnerId: string | null, now: string): Promise<string> {
  const { db } = deps.store;
  const group = await new GroupReader(db).row(groupId);
  if (group === undefined) throw notFound("calendar");
  const runners = (await new WeekReader(db).runners(groupId)).filter((row) => runnerId === null || row.id === runnerId);
  const owners = runners.flatMap((row) =>
    row.planJson === null
      ? []
      : [
          {
            runnerId: row.id,
            ...(runnerId === null ? { name: row.name } : {}),
            plan: json<Plan>(row.planJson),
          },
        ],
  );
  return calendarOf(group.name, owners, group.timeZone, now, readSettings(group.settingsJson).eveningTime);
}
