import type { Selectable } from "kysely";
import { cutPage, type Page, type PageRequest, readCursor } from "../paging.ts";
import type { Database } from "../schema/database.ts";
import type { Reading } from "../transaction.ts";

export type RunnerRow = Selectable<Database["runner"]>;

/** Dated tables of one runner, and the column that orders them. */
const datedBy = {
  footCount: "measuredAt",
  pain: "at",
  formNote: "at",
  videoMeasure: "at",
  report: "at",
} as const;
export type DatedTable = keyof typeof datedBy;

export class RunnerReader {
  protected readonly db: Reading;
  constructor(db: Reading) {
    this.db = db;
  }

  one(runnerId: string): Promise<RunnerRow | undefined> {
    return this.db.selectFrom("runner").selectAll().where("id", "=", runnerId).executeTakeFirst();
  }

  ofGroup(groupId: string): Promise<RunnerRow[]> {
    return this.db
      .selectFrom("runner")
      .selectAll()
      .where("groupId", "=", groupId)
      .orderBy("nameKey")
      .orderBy("id")
      .execute();
  }

  /** Newest first. */
  async page<T extends DatedTable>(
    table: T,
    runnerId: string,
    page: PageRequest,
  ): Promise<Page<Selectable<Database[T]>>> {
    const column = datedBy[table];
    const cursor = readCursor(page.after);
    // The tables share id, runnerId and a date; the compiler is told of one of them and the caller of the right one.
    const from = this.db.selectFrom(table as "pain").where("runnerId", "=", runnerId);
    const { total } = await from.select((build) => build.fn.countAll<number>().as("total")).executeTakeFirstOrThrow();
    const dated = column as "at";
    const rows = await from
      .selectAll()
      .$if(cursor !== null, (query) =>
        query.where((build) => {
          const [at, id] = cursor ?? ["", ""];
          return build.or([
            build(dated, "<", String(at)),
            build.and([build(dated, "=", String(at)), build("id", "<", id)]),
          ]);
        }),
      )
      .orderBy(dated, "desc")
      .orderBy("id", "desc")
      .limit(page.limit + 1)
      .execute();
    const typed = rows as unknown as Selectable<Database[T]>[];
    return cutPage(typed, page.limit, Number(total), (row) => {
      const any = row as unknown as Record<string, string>;
      return [any[column] ?? "", any["id"] ?? ""];
    });
  }

  counts(runnerId: string): Promise<Selectable<Database["footCount"]>[]> {
    return this.db.selectFrom("footCount").selectAll().where("runnerId", "=", runnerId).orderBy("measuredAt").execute();
  }

  accepted(runnerId: string): Promise<Selectable<Database["proposalDecision"]> | undefined> {
    return this.db.selectFrom("proposalDecision").selectAll().where("runnerId", "=", runnerId).executeTakeFirst();
  }

  plan(runnerId: string): Promise<Selectable<Database["plan"]> | undefined> {
    return this.db.selectFrom("plan").selectAll().where("runnerId", "=", runnerId).executeTakeFirst();
  }

  state(runnerId: string): Promise<Selectable<Database["runnerState"]> | undefined> {
    return this.db.selectFrom("runnerState").selectAll().where("runnerId", "=", runnerId).executeTakeFirst();
  }

  latestConsent(runnerId: string): Promise<Selectable<Database["consent"]> | undefined> {
    return (
      this.db
        .selectFrom("consent")
        .selectAll()
        .where("runnerId", "=", runnerId)
        // In the order in which they came: "at" is the phone's clock, and a phone that was ahead would keep what was taken back.
        .orderBy("id", "desc")
        .limit(1)
        .executeTakeFirst()
    );
  }

  painSince(runnerIds: readonly string[], since: string): Promise<Selectable<Database["pain"]>[]> {
    if (runnerIds.length === 0) return Promise.resolve([]);
    return this.db
      .selectFrom("pain")
      .selectAll()
      .where("runnerId", "in", runnerIds)
      .where("at", ">=", since)
      .orderBy("at")
      .execute();
  }

  links(runnerId: string): Promise<Selectable<Database["runnerLink"]>[]> {
    return this.db
      .selectFrom("runnerLink")
      .selectAll()
      .where("runnerId", "=", runnerId)
      .orderBy("createdAt", "desc")
      .execute();
  }

  linkByToken(tokenHash: string): Promise<Selectable<Database["runnerLink"]> | undefined> {
    return this.db.selectFrom("runnerLink").selectAll().where("tokenHash", "=", tokenHash).executeTakeFirst();
  }
}
