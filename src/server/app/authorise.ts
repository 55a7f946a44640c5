// Who is calling, and whether they may: decided from the route's own entry, before anything of the body is read.
import { createHash, timingSafeEqual } from "node:crypto";
import type { FastifyRequest } from "fastify";
import type { Access } from "../../api/index.ts";
import { AccountReader, RunnerReader } from "../../store/index.ts";
import { hashSecret } from "../sign-in/secrets.ts";
import { readSession } from "../sign-in/sessions.ts";
import { instant } from "./clock.ts";
import type { Deps } from "./deps.ts";
import { notFound, Refusal } from "./refusal.ts";

const signInNeeded = () => new Refusal(401, "sign-in-needed", "Sign in first.");

/** The caller that a handler of this access is given. Throws a Refusal. */
export async function authorise(deps: Deps, request: FastifyRequest, access: Access): Promise<object> {
  if (access === "runner") return runnerOf(deps, request);
  if (access === "owner" && isScraper(deps, request)) return { account: null };
  const account = await readSession(deps, request);
  if (access === "public") return { account };
  if (account === null) throw signInNeeded();
  if (access === "signed-in") return { account };
  if (access === "owner") {
    if (account.owner !== 1) throw new Refusal(403, "owner-only", "Only the owner of this installation may do that.");
    return { account };
  }
  const given = Object.values(request.params as Record<string, string>);
  // Looked at before the body is read, and so before the schema has seen the address.
  if (given.some((value) => value.includes("\u0000"))) throw notFound("group or runner");
  const groupId = await groupOf(deps, request.params as Record<string, string | undefined>);
  const role = groupId === undefined ? undefined : await new AccountReader(deps.store.db).role(groupId, account.id);
  // A stranger learns nothing, not even that it exists.
  if (groupId === undefined || role === undefined) throw notFound("group or runner");
  if (access === "coach" && role !== "coach")
    throw new Refusal(403, "coach-only", "Assistants cannot do that; ask a coach of the group.");
  return { account, groupId, role };
}

/** The metrics, and nothing else, may also be read with the token that was set for it. */
function isScraper(deps: Deps, request: FastifyRequest): boolean {
  const { metricsToken } = deps.settings;
  if (metricsToken === undefined || request.routeOptions.url !== "/api/metrics") return false;
  const given = createHash("sha256")
    .update(request.headers.authorization ?? "")
    .digest();
  return timingSafeEqual(given, createHash("sha256").update(`Bearer ${metricsToken}`).digest());
}

async function groupOf(deps: Deps, params: Record<string, string | undefined>): Promise<string | undefined> {
  if (params["groupId"] !== undefined) return params["groupId"];
  const { runnerId } = params;
  return runnerId === undefined ? undefined : (await new RunnerReader(deps.store.db).one(runnerId))?.groupId;
}

async function runnerOf(deps: Deps, request: FastifyRequest): Promise<object> {
  const [scheme, token] = (request.headers.authorization ?? "").split(" ");
  const invalid = new Refusal(401, "link-not-valid", "This link does not work any more. Ask your coach for a new one.");
  if (scheme?.toLowerCase() !== "bearer" || token === undefined) throw invalid;
  const reader = new RunnerReader(deps.store.db);
  const link = await reader.linkByToken(hashSecret(token));
  const now = instant(deps.clock);
  if (link === undefined || link.revokedAt !== null || link.expiresAt <= now) throw invalid;
  const runner = await reader.one(link.runnerId);
  if (runner === undefined) throw invalid;
  // To the hour: enough for the coach to see that a link is used.
  if (link.lastUsedAt === null || link.lastUsedAt.slice(0, 13) !== now.slice(0, 13))
    await deps.store.db.updateTable("runnerLink").set({ lastUsedAt: now }).where("id", "=", link.id).execute();
  return { runnerId: runner.id, groupId: runner.groupId, linkId: link.id, linkExpiresAt: link.expiresAt };
}
