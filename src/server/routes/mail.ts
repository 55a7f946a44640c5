// Mail: the coach's own server, addresses, previews and the outbox.
import type { handOutRoutes } from "../../api/routes/hand-outs.ts";
import type { Handlers } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import {
  listAddresses,
  listMail,
  previewMessages,
  queueMessages,
  sendMailAgain,
  setAddresses,
} from "../use-cases/group-mail.ts";
import { forgetMailServer, presentMailServer, setMailServer } from "../use-cases/mail-server.ts";

export type MailRoutes = Extract<keyof typeof handOutRoutes, `${string}/mail${string}` | `${string}/addresses`>;

export function mailHandlers(deps: Deps): Handlers<MailRoutes> {
  return {
    "GET /api/mail/server": ({ caller }) => presentMailServer(deps, caller.account.id),
    "PUT /api/mail/server": async ({ caller, body }) => {
      await setMailServer(deps, caller.account.id, body);
      return presentMailServer(deps, caller.account.id);
    },
    "DELETE /api/mail/server": async ({ caller }) => {
      await forgetMailServer(deps, caller.account.id);
      return {};
    },
    "GET /api/groups/:groupId/addresses": async ({ params }) => ({ items: await listAddresses(deps, params.groupId) }),
    "PUT /api/groups/:groupId/addresses": ({ caller, body }) => setAddresses(deps, caller, body.addresses),
    "POST /api/groups/:groupId/mail/preview": ({ caller, body }) => previewMessages(deps, caller, body.drafts),
    "POST /api/groups/:groupId/mail": ({ caller, body }) => queueMessages(deps, caller, body),
    "GET /api/groups/:groupId/mail": ({ caller }) => listMail(deps, caller),
    "POST /api/groups/:groupId/mail/:mailId/again": ({ caller, params }) => sendMailAgain(deps, caller, params.mailId),
  };
}
