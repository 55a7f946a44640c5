// Set-up, sign-in, accounts and members.
import type { AccountInput } from "../../api/schemas/accounts.ts";
import type { Static } from "typebox";
import type { accountRoutes } from "../../api/routes/accounts.ts";
import { AccountReader, type AccountRow, AccountWriter, GroupReader } from "../../store/index.ts";
import type { Handlers } from "../app/call.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal } from "../app/refusal.ts";
import { createGuessBrake } from "../sign-in/guess-brake.ts";
import { checkPassword, hashPassword } from "../sign-in/passwords.ts";
import { hashSecret } from "../sign-in/secrets.ts";
import { clearCookie, sessionToken, startSession } from "../sign-in/sessions.ts";
import { audit } from "../use-cases/audit.ts";
import { presentAccount } from "../use-cases/present.ts";
import { writeChange } from "../use-cases/write-change.ts";

/** Compared with when there is no such name, so that the answer takes as long. */
const NOBODY = "scrypt$32768$8$3$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";

export function accountHandlers(deps: Deps): Handlers<keyof typeof accountRoutes> {
  const { store, clock, metrics } = deps;
  const brake = createGuessBrake(store);
  const hash = (password: string) => hashPassword(password, clock.randomBytes(16), deps.settings.passwordCost);

  const guess = async <T>(name: string, attempt: () => Promise<T | null>): Promise<T> => {
    const now = clock.now();
    const waitMs = await brake.waitMs(name, now);
    if (waitMs > 0)
      throw new Refusal(429, "wait", `Too many wrong tries. Try again in ${Math.ceil(waitMs / 1000)} seconds.`);
    const result = await attempt();
    if (result === null) {
      await brake.failed(name, now);
      metrics.count("sign_in_failed");
      throw new Refusal(401, "sign-in-failed", "The name or the password is wrong, or the code was used already.");
    }
    await brake.succeeded(name);
    return result;
  };

  return {
    "GET /api/setup": async () => ({
      needsSetup: !(await new AccountReader(store.db).any()),
      demo:
        (await store.db.selectFrom("coachGroup").select("id").where("invented", "=", 1).limit(1).executeTakeFirst()) !==
        undefined,
    }),

    "POST /api/setup": async ({ body, reply }) => {
      const passwordHash = await hash(body.password);
      const account: AccountRow = {
        id: freshId(clock),
        signInName: body.signInName.toLowerCase(),
        displayName: body.displayName,
        passwordHash,
        owner: 1,
        disabled: 0,
        createdAt: instant(clock),
      };
      await guess("set-up", () =>
        store.write(async (trx) => {
          const writer = new AccountWriter(trx);
          if (await writer.any()) throw new Refusal(409, "already-set-up", "This installation has its coach already.");
          if ((await writer.useCode(hashSecret(body.code), "setup", instant(clock))) === undefined) return null;
          await writer.put(account);
          await audit(deps, trx, "set-up", { byAccountId: account.id });
          return account;
        }),
      );
      await startSession(deps, account.id, reply);
      return { account: presentAccount(account) };
    },

    "GET /api/session": ({ caller }) => ({ account: caller.account === null ? null : presentAccount(caller.account) }),

    "POST /api/session": async ({ body, reply }) => {
      const name = body.signInName.toLowerCase();
      const account = await guess(name, async () => {
        const found = await new AccountReader(store.db).byName(name);
        const right = await checkPassword(body.password, found?.passwordHash ?? NOBODY);
        return right && found !== undefined && found.disabled === 0 ? found : null;
      });
      await store.write((trx) => audit(deps, trx, "signed-in", { byAccountId: account.id }));
      await startSession(deps, account.id, reply);
      return { account: presentAccount(account) };
    },

    "POST /api/session/code": async ({ body, request, reply }) => {
      if (!isLoopback(request.ip))
        throw new Refusal(403, "not-this-machine", "The printed address works only on the machine that printed it.");
      const account = await guess("code", () =>
        store.write(async (trx) => {
          const writer = new AccountWriter(trx);
          const used = await writer.useCode(hashSecret(body.code), "sign-in", instant(clock));
          const found =
            used?.accountId === undefined || used.accountId === null ? undefined : await writer.byId(used.accountId);
          if (found === undefined || found.disabled === 1) return null;
          await audit(deps, trx, "signed-in-by-code", { byAccountId: found.id });
          return found;
        }),
      );
      await startSession(deps, account.id, reply);
      return { account: presentAccount(account) };
    },

    "DELETE /api/session": async ({ request, reply }) => {
      const token = sessionToken(deps, request);
      if (token !== undefined) await store.write((trx) => new AccountWriter(trx).endSession(hashSecret(token)));
      clearCookie(deps, reply);
      return {};
    },

    "DELETE /api/sessions": async ({ caller, reply }) => {
      await store.write((trx) => new AccountWriter(trx).endSessionsOf(caller.account.id));
      clearCookie(deps, reply);
      return {};
    },

    "PUT /api/account/password": async ({ caller, body, reply }) => {
      const { account } = caller;
      if (account.passwordHash !== null) {
        const { passwordHash } = account;
        await guess(account.signInName, async () =>
          (await checkPassword(body.currentPassword ?? "", passwordHash)) ? account : null,
        );
      }
      const changed = { ...account, passwordHash: await hash(body.newPassword) };
      await store.write(async (trx) => {
        const writer = new AccountWriter(trx);
        await writer.put(changed);
        await writer.endSessionsOf(account.id);
        await audit(deps, trx, "password-changed", { byAccountId: account.id });
      });
      await startSession(deps, account.id, reply);
      return { account: presentAccount(changed) };
    },

    "GET /api/accounts": async () => ({ items: (await new AccountReader(store.db).list()).map(presentAccount) }),

    "PUT /api/accounts/:accountId": async ({ caller, params, body }) => {
      const passwordHash = body.password === undefined ? undefined : await hash(body.password);
      const account = await store.write(async (trx) => {
        const writer = new AccountWriter(trx);
        const existing = await writer.byId(params.accountId);
        const named = await writer.byName(body.signInName);
        if (named !== undefined && named.id !== params.accountId)
          throw new Refusal(409, "name-taken", "Someone else signs in with that name already.");
        const next = nextAccount(params.accountId, existing, body, passwordHash, instant(clock));
        if (next.owner === 0 || next.disabled === 1) {
          const others = (await writer.list()).filter(
            (row) => row.id !== next.id && row.owner === 1 && row.disabled === 0,
          );
          if (existing?.owner === 1 && others.length === 0)
            throw new Refusal(409, "last-owner", "There must be an owner. Make someone else owner first.");
        }
        await writer.put(next);
        if (next.disabled === 1 || passwordHash !== undefined) {
          if (next.id !== caller.account.id) await writer.endSessionsOf(next.id);
        }
        await audit(deps, trx, "account-changed", { byAccountId: caller.account.id });
        return next;
      });
      return { account: presentAccount(account) };
    },

    "GET /api/groups/:groupId/members": async ({ caller }) => ({
      items: await new AccountReader(store.db).members(caller.groupId),
    }),

    "POST /api/groups/:groupId/members": async ({ caller, body }) => {
      const found = await new AccountReader(store.db).byName(body.signInName);
      if (found === undefined) throw notFound("account; the owner adds accounts");
      const { groupId } = caller;
      const { changeId } = await writeChange(deps, caller, "member added", async (write) => {
        await write.put("member", { id: `${groupId}/${found.id}`, groupId, accountId: found.id, role: body.role });
        await keepACoach(write.trx, groupId);
      });
      const { id: accountId, displayName, signInName } = found;
      return { item: { accountId, displayName, signInName, role: body.role }, changeId };
    },

    "PUT /api/groups/:groupId/members/:accountId": async ({ caller, params, body }) => {
      const { groupId, accountId } = params;
      const { changeId } = await writeChange(deps, caller, "role changed", async (write) => {
        if ((await new AccountReader(write.trx).role(groupId, accountId)) === undefined) throw notFound("member");
        await write.put("member", { id: `${groupId}/${accountId}`, groupId, accountId, role: body.role });
        await keepACoach(write.trx, groupId);
      });
      const member = (await new AccountReader(store.db).members(groupId)).find((row) => row.accountId === accountId);
      if (member === undefined) throw notFound("member");
      return { item: member, changeId };
    },

    "DELETE /api/groups/:groupId/members/:accountId": async ({ caller, params }) => {
      const { groupId, accountId } = params;
      const { changeId } = await writeChange(deps, caller, "member removed", async (write) => {
        if (!(await write.remove("member", `${groupId}/${accountId}`))) throw notFound("member");
        await keepACoach(write.trx, groupId);
      });
      return { changeId };
    },
  };

  async function keepACoach(trx: ConstructorParameters<typeof AccountWriter>[0], groupId: string): Promise<void> {
    const members = await new AccountReader(trx).members(groupId);
    if (!members.some((member) => member.role === "coach") && (await new GroupReader(trx).row(groupId)) !== undefined)
      throw new Refusal(409, "last-coach", "A group keeps at least one coach.");
  }
}

function nextAccount(
  id: string,
  existing: AccountRow | undefined,
  input: Static<typeof AccountInput>,
  passwordHash: string | undefined,
  now: string,
): AccountRow {
  return {
    id,
    signInName: input.signInName.toLowerCase(),
    displayName: input.displayName,
    passwordHash: passwordHash ?? existing?.passwordHash ?? null,
    owner: (input.owner ?? existing?.owner === 1) ? 1 : 0,
    disabled: (input.disabled ?? existing?.disabled === 1) ? 1 : 0,
    createdAt: existing?.createdAt ?? now,
  };
}

function isLoopback(address: string): boolean {
  return address === "127.0.0.1" || address === "::1" || address === "::ffff:127.0.0.1";
}
