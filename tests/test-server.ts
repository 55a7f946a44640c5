// A server in this process for API tests: a clock that stands still, cheap passwords, every answer held to its schema.
import { createHash, randomBytes } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable } from "node:stream";
import type { FastifyInstance } from "fastify";
import { type CallInput, type CallOutput, newId, type RouteKey, routes } from "../src/api/index.ts";
import { createLocalAnalyst } from "../src/server/analysis/analyst.ts";
import type { Clock } from "../src/server/app/clock.ts";
import { createApp } from "../src/server/app/create-app.ts";
import type { Deps, ServerSettings } from "../src/server/app/deps.ts";
import { jobHandlers } from "../src/server/jobs/handlers.ts";
import { createJobRunner, type JobRunner } from "../src/server/jobs/job-runner.ts";
import { createLog } from "../src/server/operations/log.ts";
import { createMetrics } from "../src/server/operations/metrics.ts";
import { makeSetupCode } from "../src/server/sign-in/one-time-codes.ts";
import type { StoreVariant } from "./store-variants.ts";

export interface Answer<K extends RouteKey = RouteKey> {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  /** As the schema says when the status is 200; a problem document otherwise. */
  readonly body: CallOutput<K>;
  readonly problem: {
    readonly code: string;
    readonly detail?: string;
    readonly problems?: readonly { code: string }[];
  };
  readonly raw: Buffer;
}

export interface Person {
  readonly accountId: string;
  call<K extends RouteKey>(route: K, ...input: [CallInput<K>?]): Promise<Answer<K>>;
  /** The same, failing unless the answer is 200. */
  ok<K extends RouteKey>(route: K, ...input: [CallInput<K>?]): Promise<CallOutput<K>>;
}

export interface TestServer {
  readonly app: FastifyInstance;
  readonly deps: Deps;
  readonly jobs: JobRunner;
  readonly logLines: string[];
  readonly clock: Clock & { set(at: string): void };
  readonly nobody: Person;
  readonly coach: Person;
  account(name: string, options?: { owner?: boolean }): Promise<Person>;
  phone(token: string): Person;
  group(person?: Person): Promise<string>;
  runner(groupId: string, name?: string, person?: Person): Promise<string>;
  id(): string;
  close(): Promise<void>;
}

const EVENING = "2026-03-05T18:00:00.000Z";

export async function startTestServer(
  variant: StoreVariant,
  options: Partial<ServerSettings> & { readonly at?: string } = {},
): Promise<TestServer> {
  const opened = await variant.open();
  const dataDir = mkdtempSync(join(tmpdir(), "spondee-test-"));
  let nowMs = Date.parse(options.at ?? EVENING);
  const clock = {
    // A millisecond a look, so that things that happen one after the other are in order.
    now: () => new Date((nowMs += 1)),
    randomBytes: (count: number) => randomBytes(count),
    set: (at: string) => {
      nowMs = Date.parse(at);
    },
  };
  const logLines: string[] = [];
  const { at: _, ...settings } = options;
  const partial = {
    store: opened.store,
    clock,
    analyst: createLocalAnalyst("test-1"),
    log: createLog((line) => logLines.push(line), clock.now),
    metrics: createMetrics(),
    settings: {
      dataDir,
      allowedHosts: ["localhost"],
      secureCookies: false,
      trustProxy: false,
      maxUploadBytes: 8 * 2 ** 20,
      requestsPerMinute: 100_000,
      passwordCost: { n: 2 ** 10, r: 8, p: 1 },
      keepBackups: 3,
      version: "test",
      checkAnswers: true,
      ...settings,
    },
  };
  const jobs = createJobRunner(partial, jobHandlers(partial));
  const deps: Deps = { ...partial, wakeJobs: () => undefined };
  const app = await createApp(deps);
  const id = () => newId(nowMs, randomBytes(10));

  const person = (headers: Record<string, string>, accountId = ""): Person => {
    const call: Person["call"] = async (route, ...rest) => {
      const input = (rest[0] ?? {}) as { params?: object; query?: object; body?: object; file?: unknown };
      const [method, path] = route.split(" ") as ["GET", string];
      const url = path.replace(/:([a-zA-Z]+)/g, (_match, name: string) =>
        String((input.params as Record<string, string>)[name]),
      );
      const file = input.file === undefined ? undefined : Readable.from(input.file as Buffer | AsyncIterable<Buffer>);
      const response = await app.inject({
        method,
        url,
        query: Object.fromEntries(Object.entries(input.query ?? {}).map(([name, value]) => [name, String(value)])),
        headers: {
          host: "localhost",
          "x-spondee": "1",
          ...headers,
          ...(file ? { "content-type": "application/octet-stream" } : {}),
        },
        ...(file === undefined ? (input.body === undefined ? {} : { payload: input.body }) : { payload: file }),
      });
      const isJson = String(response.headers["content-type"] ?? "").includes("json");
      const body: unknown = isJson ? response.json() : undefined;
      return {
        status: response.statusCode,
        headers: response.headers,
        body: body as never,
        problem: body as never,
        raw: response.rawPayload,
      };
    };
    return {
      accountId,
      call,
      ok: async (route, ...input) => {
        const answer = await call(route, ...input);
        if (answer.status !== 200)
          throw new Error(`${route}: ${answer.status} ${answer.raw.toString("utf8").slice(0, 600)}`);
        return answer.body;
      },
    };
  };
  const signedIn = (answer: Answer<"POST /api/session">): Person => {
    const cookie = String(answer.headers["set-cookie"]).split(";")[0] ?? "";
    return person({ cookie }, answer.body.account?.id);
  };

  const nobody = person({});
  const code = await makeSetupCode(deps);
  const setUp = await nobody.call("POST /api/setup", {
    body: { code: code ?? "", signInName: "coach", displayName: "Coach Fenwick", password: "long enough password" },
  });
  if (setUp.status !== 200) throw new Error(setUp.raw.toString());
  const coach = signedIn(setUp as never);

  return {
    app,
    deps,
    jobs,
    logLines,
    clock,
    nobody,
    coach,
    id,
    phone: (token) => person({ authorization: `Bearer ${token}` }),
    async account(name, more = {}) {
      const body = { signInName: name, displayName: name, password: `password of ${name}`, ...more };
      await coach.ok("PUT /api/accounts/:accountId", { params: { accountId: id() }, body });
      return signedIn(
        (await nobody.call("POST /api/session", { body: { signInName: name, password: body.password } })) as never,
      );
    },
    async group(by = coach) {
      const groupId = id();
      const body = { name: "Invented group", startsOn: "2026-03-05", weeks: 10, eveningWeekday: 4, timeZone: "UTC" };
      await by.ok("PUT /api/groups/:groupId", { params: { groupId }, body });
      return groupId;
    },
    async runner(groupId, name = "Odalys Brandt", by = coach) {
      const runnerId = id();
      await by.ok("PUT /api/groups/:groupId/runners/:runnerId", { params: { groupId, runnerId }, body: { name } });
      return runnerId;
    },
    async close() {
      await app.close();
      await jobs.stop();
      await opened.close();
      rmSync(dataDir, { recursive: true, force: true });
    },
  };
}

export const sha256 = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");
export const allRoutes = Object.keys(routes) as RouteKey[];
