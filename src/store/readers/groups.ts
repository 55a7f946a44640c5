import { type Selectable, sql } from "kysely";
import { beyond, cutPage, type Page, type PageRequest, readCursor } from "../paging.ts";
import type { CoachGroupTable } from "../schema/coach-group.ts";
import type { Reading } from "../transaction.ts";

export type GroupRow = Selectable<CoachGroupTable> & { runnerCount: number; role: "coach" | "assistant" };

export class GroupReader {
  protected readonly db: Reading;
  constructor(db: Reading) {
    this.db = db;
  }

  async listOf(accountId: string, page: PageRequest & { readonly archived: boolean }): Promise<Page<GroupRow>> {
    const cursor = readCursor(page.after);
    const own = this.#withRole(accountId).where("coachGroup.archived", "=", page.archived ? 1 : 0);
    const { total } = await this.db
      .selectFrom("coachGroup")
      .innerJoin("member", "member.groupId", "coachGroup.id")
      .select((build) => build.fn.countAll<number>().as("total"))
      .where("member.accountId", "=", accountId)
      .where("coachGroup.archived", "=", page.archived ? 1 : 0)
      .executeTakeFirstOrThrow();
    const rows = await own
      .$if(cursor !== null, (query) =>
        query.where((build) =>
          beyond(
            build,
            { key: sql.ref("coachGroup.startsOn"), id: sql.ref("coachGroup.id") },
            cursor ?? ["", ""],
            "desc",
          ),
        ),
      )
      .orderBy("coachGroup.startsOn", "desc")
      .orderBy("coachGroup.id", "desc")
      .limit(page.limit + 1)
      .execute();
    return cutPage(rows, page.limit, Number(total), (row) => [row.startsOn, row.id]);
  }

  one(groupId: string, accountId: string): Promise<GroupRow | undefined> {
    return this.#withRole(accountId).where("coachGroup.id", "=", groupId).executeTakeFirst();
  }

  row(groupId: string): Promise<Selectable<CoachGroupTable> | undefined> {
    return this.db.selectFrom("coachGroup").selectAll().where("id", "=", groupId).executeTakeFirst();
  }

  invented(accountId: string): Promise<GroupRow | undefined> {
    return this.#withRole(accountId).where("coachGroup.invented", "=", 1).executeTakeFirst();
  }

  #withRole(accountId: string) {
    return this.db
      .selectFrom("coachGroup")
      .innerJoin("member", "member.groupId", "coachGroup.id")
      .selectAll("coachGroup")
      .select("member.role")
      .select((build) =>
        build
          .selectFrom("runner")
          .select((inner) => inner.fn.countAll<number>().as("count"))
          .whereRef("runner.groupId", "=", "coachGroup.id")
          .where("runner.archived", "=", 0)
          .$asScalar()
          .$notNull()
          .as("runnerCount"),
      )
      .where("member.accountId", "=", accountId);
  }
}
