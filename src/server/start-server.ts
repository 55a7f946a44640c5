// Puts everything together and listens. What the command line calls.
import { accessSync, constants, existsSync, mkdirSync, rmSync } from "node:fs";
import { hostname, networkInterfaces } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { backupSqlite, openStore, type Store, type StorePlace } from "../store/index.ts";
import { type Analyst, createLocalAnalyst } from "./analysis/analyst.ts";
import { createThreadedAnalyst } from "./analysis/threaded-analyst.ts";
import { type Clock, instant, systemClock } from "./app/clock.ts";
import { createApp } from "./app/create-app.ts";
import { defaultPasswordCost, type Deps, type ServerSettings } from "./app/deps.ts";
import { seedDemo } from "./demo/seed-first-run.ts";
import { createFreshener } from "./jobs/freshener.ts";
import { jobHandlers, OWN_LANES } from "./jobs/handlers.ts";
import { createJobRunner } from "./jobs/job-runner.ts";
import { startHousekeeping } from "./jobs/housekeeping.ts";
import { stampOf } from "./operations/backups.ts";
import { allowedHosts, assertBindAllowed } from "./operations/bind-rules.ts";
import { ENGINE_VERSION } from "./operations/engine-version.ts";
import { createLog, type Log } from "./operations/log.ts";
import { createMetrics } from "./operations/metrics.ts";
import { findSpeaker } from "./tracks/speech.ts";
import { makeSetupCode, makeSignInCode } from "./sign-in/one-time-codes.ts";

export interface ServeOptions {
  readonly dataDir: string;
  readonly host?: string;
  readonly port?: number;
  /** PostgreSQL instead of the file in dataDir. */
  readonly databaseUrl?: string;
  /** Folder with desk/ and pocket/ built. */
  readonly pagesDir?: string;
  readonly demo?: boolean;
  readonly publicOrigin?: string;
  /** Own certificate: HTTPS without a proxy. */
  readonly https?: { readonly key: string; readonly cert: string };
  readonly version?: string;
  readonly metricsToken?: string;
  /** Seals mail passwords where several servers share a database. */
  readonly mailKey?: string;
  readonly maxUploadBytes?: number;
  readonly keepBackups?: number;
  readonly logLine?: (line: string) => void;
  readonly clock?: Clock;
}

export interface RunningServer {
  /** Where it listens, "http://127.0.0.1:7411". */
  readonly address: string;
  /** Opens the desk signed in, once, on this machine; null when nobody has an account yet. */
  readonly signInAddress: string | null;
  /** Makes the first coach; null when there is one. */
  readonly setupAddress: string | null;
  readonly setupCode: string | null;
  /** The demo group was made by this start. */
  readonly demoSeeded: boolean;
  /** Finishes what is under way, then closes. */
  stop(): Promise<void>;
}

/** The server could not start; the message says why and what to do. */
export class StartError extends Error {
  override name = "StartError";
}

const DEFAULT_PORT = 7411;
const DEFAULT_UPLOAD_BYTES = 200 * 2 ** 20;

/** Throws StartError, StoreOpenError or BindRefusedError with a sentence for people. */
export async function startServer(options: ServeOptions): Promise<RunningServer> {
  const host = options.host ?? "127.0.0.1";
  const ownHttps = options.https !== undefined;
  const origin = options.publicOrigin === undefined ? {} : { publicOrigin: options.publicOrigin };
  const wish = { host, ownHttps, ...origin };
  assertBindAllowed(wish);
  const clock = options.clock ?? systemClock;
  const dataDir = prepareDataDir(options.dataDir);
  const store = await openServerStore(dataDir, options.databaseUrl, clock);
  try {
    const settings: ServerSettings = {
      dataDir,
      ...(options.pagesDir === undefined ? {} : { pagesDir: options.pagesDir }),
      allowedHosts: allowedHosts(wish, ownNames()),
      ...origin,
      secureCookies: ownHttps || options.publicOrigin?.startsWith("https://") === true,
      trustProxy: options.publicOrigin !== undefined && !ownHttps,
      maxUploadBytes: options.maxUploadBytes ?? DEFAULT_UPLOAD_BYTES,
      requestsPerMinute: 1200,
      passwordCost: defaultPasswordCost,
      ...(options.metricsToken === undefined ? {} : { metricsToken: options.metricsToken }),
      ...(options.mailKey === undefined ? {} : { mailKey: options.mailKey }),
      keepBackups: options.keepBackups ?? 14,
      version: options.version ?? "0.1.0",
    };
    const log: Log = createLog(options.logLine ?? (() => undefined), () => clock.now());
    const analyst = createAnalyst();
    const partial = { store, clock, analyst, log, metrics: createMetrics(), settings, speech: lookOnce(findSpeaker) };
    const jobs = createJobRunner(partial, jobHandlers(partial), {
      lookEveryMs: 5000,
      ownLanes: OWN_LANES,
    });
    const deps: Deps = { ...partial, wakeJobs: () => jobs.wake() };
    const freshener = createFreshener(deps, { lookEveryMs: 5000 });
    const app = await createApp(deps, options.https);
    const demoSeeded = options.demo === true && (await seedDemo(deps));
    const port = options.port ?? DEFAULT_PORT;
    const listening = await app.listen({ host, port }).catch((error: unknown) => {
      throw explainListening(error, host, port);
    });
    const address = options.publicOrigin ?? listening.replace("[::1]", "localhost");
    const stopHousekeeping = await startHousekeeping(deps);
    jobs.wake();
    const setupCode = await makeSetupCode(deps);
    const signInCode = await makeSignInCode(deps);
    let stopped: Promise<void> | undefined;
    return {
      address,
      signInAddress: signInCode === null ? null : `${address}/#code=${signInCode}`,
      setupAddress: setupCode === null ? null : `${address}/#setup=${setupCode}`,
      setupCode,
      demoSeeded,
      stop: () =>
        (stopped ??= (async () => {
          stopHousekeeping();
          await app.close();
          await jobs.stop();
          await freshener.stop();
          await analyst.close();
          await store.close();
        })()),
    };
  } catch (error) {
    await store.close().catch(() => undefined);
    throw error;
  }
}

/** What this machine is called and the addresses it has: a phone on the same network may use any of them. */
function ownNames(): string[] {
  const addresses = Object.values(networkInterfaces()).flatMap((entries) =>
    (entries ?? []).map((entry) => entry.address),
  );
  return [hostname(), `${hostname()}.local`, ...addresses];
}

function storePlace(dataDir: string, databaseUrl: string | undefined): StorePlace {
  return databaseUrl === undefined ? { sqliteFile: join(dataDir, "spondee.sqlite") } : { databaseUrl };
}

/** Opens and migrates; an existing file is backed up before its schema changes. */
export function openServerStore(dataDir: string, databaseUrl: string | undefined, clock: Clock): Promise<Store> {
  return openStore(storePlace(dataDir, databaseUrl), {
    beforeMigration: async (sqlite, from) => {
      await backupSqlite(
        sqlite,
        join(dataDir, "backups", `before-migration-from-${from}-${stampOf(instant(clock))}.sqlite`),
      );
    },
  });
}

function prepareDataDir(dataDir: string): string {
  try {
    mkdirSync(dataDir, { recursive: true, mode: 0o700 });
    accessSync(dataDir, constants.W_OK);
    // What was still arriving when a process died was never acknowledged.
    rmSync(join(dataDir, "uploads"), { recursive: true, force: true });
    return dataDir;
  } catch (cause) {
    throw new StartError(`The data folder ${dataDir} cannot be written. Choose another with --data.`, { cause });
  }
}

/** The built worker lies beside the built program; from source there is none, and the analysis runs in place. */
function createAnalyst(): Analyst {
  const workerFile = fileURLToPath(new URL("./analysis-worker.mjs", import.meta.url));
  if (!existsSync(workerFile)) return createLocalAnalyst(ENGINE_VERSION);
  return createThreadedAnalyst({ engineVersion: ENGINE_VERSION, workerFile, maxMs: 120_000, maxMemoryMb: 1024 });
}

function explainListening(error: unknown, host: string, port: number): StartError {
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  const said: Readonly<Record<string, string>> = {
    EADDRINUSE: `Port ${port} is taken. Stop what uses it, or choose another: --port ${port + 1}`,
    EACCES: `Port ${port} needs more rights than this user has. Choose one above 1023: --port 7411`,
    EADDRNOTAVAIL: `This machine has no address ${host}. Leave --host away, or use one that it has.`,
    ENOTFOUND: `The name ${host} is not known. Leave --host away, or use an address of this machine.`,
  };
  return new StartError(said[code] ?? `The server cannot listen on ${host}:${port} (${code}).`, { cause: error });
}

/** Looks at the first asking, and remembers. */
function lookOnce<T>(look: () => Promise<T>): () => Promise<T> {
  let found: Promise<T> | undefined;
  return () => (found ??= look());
}
