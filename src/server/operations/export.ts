// Everything about one person, or about a group: documented JSON, CSV for a spreadsheet, recordings byte for byte.
import { makeZip } from "client-zip";
import { GroupReader, RecordingReader, RunnerReader, type RunnerRow, ChangeReader } from "../../store/index.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import {
  json,
  presentCount,
  presentFormNote,
  presentPain,
  presentRecording,
  presentReport,
  presentRunner,
  presentVideo,
} from "../use-cases/present.ts";
import { writeCsv } from "../use-cases/roster-csv.ts";

interface Entry {
  readonly name: string;
  readonly lastModified: Date;
  readonly input: string | AsyncIterable<Uint8Array>;
}

const ALL = 500;

/** A zip as a stream; holds one recording's piece at a time. */
export async function* exportRunner(deps: Deps, runnerId: string): AsyncGenerator<Uint8Array> {
  const runner = await new RunnerReader(deps.store.db).one(runnerId);
  if (runner === undefined) throw notFound("runner");
  yield* zipped(runnerEntries(deps, runner, ""));
}

export async function* exportGroup(deps: Deps, groupId: string): AsyncGenerator<Uint8Array> {
  const group = await new GroupReader(deps.store.db).row(groupId);
  if (group === undefined) throw notFound("group");
  const runners = await new RunnerReader(deps.store.db).ofGroup(groupId);
  yield* zipped(
    (async function* entries(): AsyncGenerator<Entry> {
      const { settingsJson, holidaysJson, ...plain } = group;
      const about = { ...plain, settings: json(settingsJson), holidays: json(holidaysJson) };
      yield text(deps, "group.json", JSON.stringify(about, null, 2));
      for (const runner of runners)
        yield* runnerEntries(deps, runner, `${safeName(runner.name)}-${runner.id.slice(-8)}/`);
    })(),
  );
}

async function* runnerEntries(deps: Deps, runner: RunnerRow, folder: string): AsyncGenerator<Entry> {
  const { db } = deps.store;
  const reader = new RunnerReader(db);
  const all = async <T extends Parameters<RunnerReader["page"]>[0], R>(
    table: T,
    present: (row: never) => R,
  ): Promise<R[]> => {
    const made: R[] = [];
    for (let after: string | undefined; ; ) {
      const page = await reader.page(table, runner.id, { limit: ALL, ...(after === undefined ? {} : { after }) });
      made.push(...page.items.map((row) => present(row as never)));
      if (page.next === null) return made;
      after = page.next;
    }
  };
  const recordings = [];
  for (let after: string | undefined; ; ) {
    const page = await new RecordingReader(db).page(runner.id, {
      limit: ALL,
      withExcluded: true,
      ...(after === undefined ? {} : { after }),
    });
    recordings.push(...page.items.map(presentRecording));
    if (page.next === null) break;
    after = page.next;
  }
  const counts = await all("footCount", presentCount);
  const plan = await reader.plan(runner.id);
  const accepted = await reader.accepted(runner.id);
  const consents = await db.selectFrom("consent").selectAll().where("runnerId", "=", runner.id).orderBy("at").execute();
  const decisions = await db.selectFrom("decision").selectAll().where("runnerId", "=", runner.id).execute();
  const attendance = await db.selectFrom("attendance").selectAll().where("runnerId", "=", runner.id).execute();
  const address = await db.selectFrom("mailAddress").select("address").where("id", "=", runner.id).executeTakeFirst();
  const mailRows = await db
    .selectFrom("mailItem")
    .select(["messageJson", "createdAt", "status"])
    .where("runnerId", "=", runner.id)
    .orderBy("createdAt")
    .execute();
  const messages = mailRows.map((row) => ({
    ...json<object>(row.messageJson),
    createdAt: row.createdAt,
    status: row.status,
  }));
  const changes = await new ChangeReader(db).page(runner.groupId, { limit: ALL, runnerId: runner.id });
  const document = {
    format: "spondee-person-1",
    exportedAt: deps.clock.now().toISOString(),
    units: "SI; step rates are steps per minute of both feet; times are UTC (RFC 3339)",
    runner: presentRunner(runner),
    counts,
    recordings,
    accepted:
      accepted === undefined ? null : { ...accepted, proposalJson: undefined, proposal: json(accepted.proposalJson) },
    plan: plan === undefined ? null : json(plan.planJson),
    decisions,
    pain: await all("pain", presentPain),
    formNotes: await all("formNote", presentFormNote),
    videoMeasures: await all("videoMeasure", presentVideo),
    reports: await all("report", presentReport),
    attendance,
    mailAddress: address?.address ?? null,
    messages,
    consents,
    history: changes.items.map(({ at, byName, what }) => ({ at, byName, what })),
  };
  yield text(deps, `${folder}README.txt`, README);
  yield text(deps, `${folder}person.json`, JSON.stringify(document, null, 2));
  yield text(
    deps,
    `${folder}counts.csv`,
    writeCsv(
      [
        "measured at",
        "contacts",
        "seconds",
        "feet",
        "step rate (spm, both feet)",
        "standard error (spm)",
        "speed (m/s)",
        "note",
      ],
      counts.map((row) => [
        row.measuredAt,
        row.contacts,
        row.seconds,
        row.feet,
        row.stepRateSpm.estimate,
        row.stepRateSpm.standardError,
        row.speedMps,
        row.note,
      ]),
    ),
  );
  yield text(
    deps,
    `${folder}recordings.csv`,
    writeCsv(
      [
        "file",
        "started at",
        "phase",
        "surface",
        "duration (s)",
        "distance (m)",
        "step rate (spm, both feet)",
        "speed (m/s)",
        "excluded",
      ],
      recordings.map((row) => [
        row.fileName,
        row.startedAt,
        row.phase,
        row.surface,
        row.summary?.durationS ?? null,
        row.summary?.distanceM ?? null,
        row.summary?.stepRateSpm?.mean ?? null,
        row.summary?.speedMps?.mean ?? null,
        row.excluded ? "yes" : "no",
      ]),
    ),
  );
  for (const row of recordings)
    yield {
      name: `${folder}recordings/${row.id.slice(-8)}-${safeName(row.fileName)}`,
      lastModified: new Date(row.startedAt ?? row.uploadedAt),
      input: new RecordingReader(db).bytes(row.id),
    };
}

const README = `Everything Spondee holds about one person.

person.json     all entries, in one document; field names say what they are and in which unit
counts.csv      counts taken by ear or eye, for a spreadsheet
recordings.csv  one line per recording
recordings/     the files as they were sent, byte for byte
`;

function text(deps: Deps, name: string, input: string): Entry {
  return { name, lastModified: deps.clock.now(), input };
}

/** A name that is one part of a path on every system: no separators, no dots in front, never empty. */
export function safeName(name: string): string {
  const plain = name
    .normalize("NFC")
    .replaceAll(/[^\p{Letter}\p{Mark}\p{Number}._ -]+/gu, "_")
    .replaceAll(/\.{2,}/g, ".")
    .replaceAll(/^[\s.]+|[\s.]+$/g, "");
  return Array.from(plain === "" ? "unnamed" : plain)
    .slice(0, 80)
    .join("");
}

async function* zipped(entries: AsyncIterable<Entry>): AsyncGenerator<Uint8Array> {
  const reader = makeZip(entries).getReader();
  try {
    for (let piece = await reader.read(); !piece.done; piece = await reader.read()) yield piece.value;
  } finally {
    await reader.cancel();
  }
}
