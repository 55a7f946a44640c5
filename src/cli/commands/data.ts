// spondee demo, backup, restore, check-data and move: the data folder without a server.
import path from "node:path";
import { type Command, RefusedError, UsageError } from "../command.ts";
import { dataFolder, dataOption, refusing } from "../data-folder.ts";

const server = () => import("../../server/index.ts");

export const demoCommand: Command = {
  name: "demo",
  summary: "fill a data folder with an invented demo group",
  usage: "--data DIR",
  options: dataOption,
  async run({ options, outside }) {
    const dataDir = dataFolder(options);
    const { seedDemoData } = await server();
    const databaseUrl = outside.environment["SPONDEE_DATABASE_URL"];
    const made = await refusing(() => seedDemoData(dataDir, databaseUrl === undefined ? {} : { databaseUrl }));
    return {
      json: { dataDir, made, invented: true },
      text: made
        ? `An invented demo group is in ${dataDir}: nobody in it exists.`
        : `${dataDir} has had its demo group before; nothing was changed.`,
    };
  },
};

export const backupCommand: Command = {
  name: "backup",
  summary: "a consistent copy of everything, also while the server runs",
  usage: "FILE --data DIR",
  options: dataOption,
  notes: "With SPONDEE_DATABASE_URL set, a copy of that PostgreSQL database; the file is of the same kind.",
  async run({ positionals, options, outside }) {
    const file = oneFile(positionals);
    const { backupFolder } = await server();
    const databaseUrl = outside.environment["SPONDEE_DATABASE_URL"];
    const report = await refusing(() => backupFolder(dataFolder(options), file, databaseUrl));
    return { json: report, text: `${report.file}: ${report.byteCount} bytes, SHA-256 ${report.sha256}` };
  },
};

export const restoreCommand: Command = {
  name: "restore",
  summary: "put a backup in place, after checking it; the server must be stopped",
  usage: "FILE --data DIR [--replace]",
  notes: "With SPONDEE_DATABASE_URL set, into that PostgreSQL database, which must be empty.",
  options: { ...dataOption, replace: { help: "there is a database already: keep it beside, and replace it" } },
  async run({ positionals, options, outside }) {
    const file = oneFile(positionals);
    const { restoreDatabase, restoreFolder } = await server();
    const databaseUrl = outside.environment["SPONDEE_DATABASE_URL"];
    if (databaseUrl !== undefined) {
      const rows = await refusing(() => restoreDatabase(file, databaseUrl));
      return {
        json: { restored: file, rows },
        text: `Restored ${file} into PostgreSQL, counts compared.`,
      };
    }
    const { kept } = await refusing(async () =>
      restoreFolder(file, dataFolder(options), { replace: options.flag("replace"), now: new Date(outside.now()) }),
    );
    return {
      json: { restored: file, dataDir: dataFolder(options), kept },
      text: `Restored ${file}.${kept === null ? "" : ` What was there lies in ${kept}.`}`,
    };
  },
};

export const checkDataCommand: Command = {
  name: "check-data",
  summary: "is the data folder's database sound?",
  usage: "--data DIR",
  options: dataOption,
  async run({ options }) {
    const { checkIntegrity } = await server();
    const faults = await refusing(() => checkIntegrity(dataFolder(options)));
    return {
      json: { faults },
      text: faults.length === 0 ? "No fault found." : faults.join("\n"),
      exitCode: faults.length === 0 ? 0 : 3,
    };
  },
};

export const moveCommand: Command = {
  name: "move",
  summary: "everything from the data folder to PostgreSQL, or back, with counts",
  usage: "to-postgres|to-sqlite --data DIR",
  options: dataOption,
  notes: "SPONDEE_DATABASE_URL names the PostgreSQL database. The place moved to must be empty.",
  async run({ positionals, options, outside }) {
    const [direction, ...more] = positionals;
    if ((direction !== "to-postgres" && direction !== "to-sqlite") || more.length > 0) {
      throw new UsageError("say to-postgres or to-sqlite");
    }
    const databaseUrl = outside.environment["SPONDEE_DATABASE_URL"];
    if (databaseUrl === undefined) throw new RefusedError("SPONDEE_DATABASE_URL is not set: which database?");
    const { moveData } = await server();
    const rows = await refusing(() => moveData(dataFolder(options), databaseUrl, direction));
    return {
      json: { direction, rows },
      text: Object.entries(rows)
        .map(([table, count]) => `${table}: ${count}`)
        .join("\n"),
    };
  },
};

function oneFile(positionals: readonly string[]): string {
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0) throw new UsageError("name one file");
  return path.resolve(file);
}
