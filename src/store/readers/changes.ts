import type { Selectable } from "kysely";
import { cutPage, type Page, type PageRequest, readCursor } from "../paging.ts";
import type { Database } from "../schema/database.ts";
import type { Reading } from "../transaction.ts";

export type ChangeRecord = Selectable<Database["change"]>;

export class ChangeReader {
  readonly #db: Reading;
  constructor(db: Reading) {
    this.#db = db;
  }

  /** Newest first; of one runner when given. */
  async page(groupId: string, page: PageRequest & { readonly runnerId?: string }): Promise<Page<ChangeRecord>> {
    const cursor = readCursor(page.after);
    let query = this.#db.selectFrom("change").where("groupId", "=", groupId);
    const { runnerId } = page;
    if (runnerId !== undefined)
      query = query.where((build) =>
        build.exists(
          build
            .selectFrom("changeRow")
            .select("changeRow.changeId")
            .whereRef("changeRow.changeId", "=", "change.id")
            .where("changeRow.runnerId", "=", runnerId),
        ),
      );
    const { total } = await query.select((build) => build.fn.countAll<number>().as("total")).executeTakeFirstOrThrow();
    if (cursor !== null)
      query = query.where((build) =>
        build.or([
          build("at", "<", String(cursor[0])),
          build.and([build("at", "=", String(cursor[0])), build("id", "<", cursor[1])]),
        ]),
      );
    const rows = await query
      .selectAll()
      .orderBy("at", "desc")
      .orderBy("id", "desc")
      .limit(page.limit + 1)
      .execute();
    return cutPage(rows, page.limit, Number(total), (row) => [row.at, row.id]);
  }

  one(groupId: string, changeId: string): Promise<ChangeRecord | undefined> {
    return this.#db
      .selectFrom("change")
      .selectAll()
      .where("id", "=", changeId)
      .where("groupId", "=", groupId)
      .executeTakeFirst();
  }

  rows(changeId: string): Promise<Selectable<Database["changeRow"]>[]> {
    return this.#db.selectFrom("changeRow").selectAll().where("changeId", "=", changeId).orderBy("position").execute();
  }

  async audit(page: PageRequest): Promise<Page<Selectable<Database["audit"]>>> {
    const cursor = readCursor(page.after);
    const { total } = await this.#db
      .selectFrom("audit")
      .select((build) => build.fn.countAll<number>().as("total"))
      .executeTakeFirstOrThrow();
    const rows = await this.#db
      .selectFrom("audit")
      .selectAll()
      .$if(cursor !== null, (query) =>
        query.where((build) => {
          const [at, id] = cursor ?? ["", ""];
          return build.or([
            build("at", "<", String(at)),
            build.and([build("at", "=", String(at)), build("id", "<", id)]),
          ]);
        }),
      )
      .orderBy("at", "desc")
      .orderBy("id", "desc")
      .limit(page.limit + 1)
      .execute();
    return cutPage(rows, page.limit, Number(total), (row) => [row.at, row.id]);
  }
}
