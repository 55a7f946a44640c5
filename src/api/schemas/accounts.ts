// Who may come in: first-run set-up, sign-in, sessions, accounts and their roles in a group.
import { type Static, Type } from "typebox";
import { Id, Instant, Name, nullable } from "./common.ts";

const SignInName = Type.String({
  minLength: 2,
  maxLength: 120,
  pattern: "^[^\\s\\u0000-\\u001f\\u007f]+$",
  description: "What the person types to sign in: an e-mail address or any short name without spaces.",
});
const Password = Type.String({ minLength: 10, maxLength: 200 });

export const SetupState = Type.Object({
  needsSetup: Type.Boolean({ description: "True until the first coach exists." }),
  demo: Type.Boolean({ description: "The invented demo group is present." }),
});

export const SetupRequest = Type.Object({
  code: Type.String({ minLength: 4, maxLength: 200, description: "The one-time code printed in the terminal." }),
  signInName: SignInName,
  displayName: Name,
  password: Password,
});

export const SignInRequest = Type.Object({ signInName: SignInName, password: Type.String({ maxLength: 200 }) });

export const SignInCodeRequest = Type.Object({
  code: Type.String({ minLength: 4, maxLength: 200, description: "From the one-time sign-in address." }),
});

export const Account = Type.Object({
  id: Id,
  signInName: Type.String(),
  displayName: Type.String(),
  owner: Type.Boolean({ description: "May add accounts, see metrics and make backups." }),
  hasPassword: Type.Boolean(),
  createdAt: Instant,
  disabled: Type.Boolean(),
});
export type Account = Static<typeof Account>;

export const SessionInfo = Type.Object({ account: nullable(Account) });

export const AccountInput = Type.Object({
  signInName: SignInName,
  displayName: Name,
  password: Type.Optional(Password),
  owner: Type.Optional(Type.Boolean()),
  disabled: Type.Optional(Type.Boolean()),
});

export const PasswordChange = Type.Object({
  currentPassword: Type.Optional(Type.String({ maxLength: 200 })),
  newPassword: Password,
});

const Role = Type.Enum(["coach", "assistant"]);

export const Member = Type.Object({
  accountId: Id,
  displayName: Type.String(),
  signInName: Type.String(),
  role: Role,
});

export const MemberInput = Type.Object({ role: Role });
export const MemberInvite = Type.Object({ signInName: SignInName, role: Role });
