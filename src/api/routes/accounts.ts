import { Type } from "typebox";
import * as accounts from "../schemas/accounts.ts";
import { Changed, savedOf } from "../schemas/common.ts";
import { defineRoutes } from "./contract.ts";
import { AccountParams, Empty, GroupParams, MemberParams } from "./params.ts";

const tag = "Sign-in";

export const accountRoutes = defineRoutes({
  "GET /api/setup": {
    summary: "Does this installation still need its first coach?",
    tag,
    access: "public",
    response: accounts.SetupState,
  },
  "POST /api/setup": {
    summary: "Make the first coach",
    description: "Needs the one-time code printed in the terminal. Signs in at once. Works only until it has worked.",
    tag,
    access: "public",
    body: accounts.SetupRequest,
    response: accounts.SessionInfo,
  },
  "GET /api/session": {
    summary: "Who is signed in",
    description: "account is null when nobody is.",
    tag,
    access: "public",
    response: accounts.SessionInfo,
  },
  "POST /api/session": {
    summary: "Sign in with name and password",
    description: "Guesses are slowed down, by name and by address.",
    tag,
    access: "public",
    body: accounts.SignInRequest,
    response: accounts.SessionInfo,
  },
  "POST /api/session/code": {
    summary: "Sign in with the one-time code of a printed sign-in address",
    description: "Only from the machine itself; each code works once and for ten minutes.",
    tag,
    access: "public",
    body: accounts.SignInCodeRequest,
    response: accounts.SessionInfo,
  },
  "DELETE /api/session": { summary: "Sign out", tag, access: "signed-in", response: Empty },
  "DELETE /api/sessions": {
    summary: "Sign out everywhere",
    description: "Ends every session of the signed-in person, this one too.",
    tag,
    access: "signed-in",
    response: Empty,
  },
  "PUT /api/account/password": {
    summary: "Set one's own password",
    description: "Needs the current password when there is one. Ends all other sessions.",
    tag,
    access: "signed-in",
    body: accounts.PasswordChange,
    response: accounts.SessionInfo,
  },
  "GET /api/accounts": {
    summary: "List accounts",
    tag,
    access: "owner",
    response: Type.Object({ items: Type.Array(accounts.Account) }),
  },
  "PUT /api/accounts/:accountId": {
    summary: "Add or change an account",
    tag,
    access: "owner",
    params: AccountParams,
    body: accounts.AccountInput,
    response: Type.Object({ account: accounts.Account }),
  },
  "GET /api/groups/:groupId/members": {
    summary: "Coaches and assistants of a group",
    tag,
    access: "member",
    params: GroupParams,
    response: Type.Object({ items: Type.Array(accounts.Member) }),
  },
  "POST /api/groups/:groupId/members": {
    summary: "Let another account into the group",
    tag,
    access: "coach",
    params: GroupParams,
    body: accounts.MemberInvite,
    response: savedOf(accounts.Member),
  },
  "PUT /api/groups/:groupId/members/:accountId": {
    summary: "Change someone's role",
    description: "The last coach of a group cannot be made an assistant.",
    tag,
    access: "coach",
    params: MemberParams,
    body: accounts.MemberInput,
    response: savedOf(accounts.Member),
  },
  "DELETE /api/groups/:groupId/members/:accountId": {
    summary: "Take someone out of the group",
    description: "The last coach of a group cannot be removed.",
    tag,
    access: "coach",
    params: MemberParams,
    response: Changed,
  },
});
