// What the server is given. Clock, randomness, files and the analysis thread come in here; nothing below reaches for them.
import type { Store } from "../../store/index.ts";
import type { Analyst } from "../analysis/analyst.ts";
import type { Log } from "../operations/log.ts";
import type { Metrics } from "../operations/metrics.ts";
import type { Speaker } from "../tracks/speech.ts";
import type { Clock } from "./clock.ts";

export interface PasswordCost {
  /** scrypt N: a power of two. */
  readonly n: number;
  readonly r: number;
  readonly p: number;
}

export interface ServerSettings {
  /** Where uploads wait while they arrive, and where backups go. */
  readonly dataDir: string;
  /** Folder with the built pages; absent in tests. */
  readonly pagesDir?: string;
  /** Names under which the server may be called; a request for another host is refused (DNS rebinding). */
  readonly allowedHosts: readonly string[];
  /** "https://…" when a proxy in front speaks HTTPS, or the server does itself. */
  readonly publicOrigin?: string;
  readonly secureCookies: boolean;
  readonly trustProxy: boolean;
  readonly maxUploadBytes: number;
  /** Requests a minute from one person or address. */
  readonly requestsPerMinute: number;
  readonly passwordCost: PasswordCost;
  /** For a scraper without a session; absent: only the owner sees metrics. */
  readonly metricsToken?: string;
  /** Seals mail passwords where several servers share a database; absent: a key file in the data folder. */
  readonly mailKey?: string;
  readonly keepBackups: number;
  readonly version: string;
  /** Tests: compare every answer with its schema and fail loudly. */
  readonly checkAnswers?: boolean;
}

export interface Deps {
  readonly store: Store;
  readonly clock: Clock;
  readonly analyst: Analyst;
  readonly log: Log;
  readonly metrics: Metrics;
  readonly settings: ServerSettings;
  /** The machine's speech program, undefined when there is none; absent: announcements are tones. */
  readonly speech?: () => Promise<Speaker | undefined>;
  /** Tells the job runner that there is work, so that it need not wait for its next look. */
  wakeJobs(): void;
}

/** RFC 9106 is not in Node; scrypt is. OWASP Password Storage Cheat Sheet: N = 2^15, r = 8, p = 3 (32 MiB). */
export const defaultPasswordCost: PasswordCost = { n: 2 ** 15, r: 8, p: 3 };
