// Messages through the coach's own mail server: addresses, a look at what would go out, and how far each one came.
import { useQuery } from "@tanstack/react-query";
import { type FormEvent, useState } from "react";
import type { Messages } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { mailServerQuery } from "../data/coaching-queries.ts";
import { useSave } from "../data/use-save.ts";
import { handOutWords } from "../strings/hand-outs.ts";
import { MailPreviewDialog } from "./mail-preview.tsx";
import { MailServerDialog } from "./mail-server-dialog.tsx";
import { OutboxList } from "./outbox-list.tsx";

const words = handOutWords.mail;

interface MailPartProps {
  readonly groupId: string;
  readonly format: Format;
  readonly messages: Messages;
}

export function MailPart({ groupId, format, messages }: MailPartProps) {
  const server = useQuery(mailServerQuery).data;
  const [settingUp, setSettingUp] = useState(false);
  const [looking, setLooking] = useState(false);
  if (!server) return null;
  const ready = server.configured && server.passwordReadable;
  const reachable = messages.items.filter((one) => one.address !== null);
  return (
    <>
      <h3>{words.heading}</h3>
      <p className="muted">
        {server.configured ? words.on(server.from) : words.off} {!server.passwordReadable && words.unreadable}
      </p>
      <div className="row">
        {ready && (
          <Button kind="go" disabled={reachable.length === 0} onClick={() => setLooking(true)}>
            {words.look}
          </Button>
        )}
        <Button onClick={() => setSettingUp(true)}>{server.configured ? words.change : words.setUp}</Button>
        {ready && <span className="muted small">{words.lookHint}</span>}
      </div>
      {server.configured && <Addresses groupId={groupId} messages={messages} />}
      <OutboxList groupId={groupId} format={format} />
      {settingUp && <MailServerDialog server={server} onClose={() => setSettingUp(false)} />}
      {looking && (
        <MailPreviewDialog
          groupId={groupId}
          weekOn={messages.weekOn}
          drafts={reachable.map(({ runnerId, subject, text }) => ({ runnerId, subject, text }))}
          onClose={() => setLooking(false)}
        />
      )}
    </>
  );
}

function Addresses({ groupId, messages }: { readonly groupId: string; readonly messages: Messages }) {
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const save = useSave({
    quietErrors: true,
    save: () =>
      api.call("PUT /api/groups/:groupId/addresses", {
        params: { groupId },
        body: {
          addresses: Object.entries(typed).map(([runnerId, address]) => ({
            runnerId,
            address: address.trim() === "" ? null : address.trim(),
          })),
        },
      }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.addressesSaid,
    done: () => setTyped({}),
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save.mutate(undefined);
  };
  const missing = messages.items.filter((one) => one.address === null).length;
  return (
    <details open={missing === messages.items.length}>
      <summary>
        {words.addresses} ({messages.items.length - missing}/{messages.items.length})
      </summary>
      <form onSubmit={submit}>
        <ProblemList error={save.error} />
        <ul className="plain-list addresses">
          {messages.items.map((one) => (
            <li key={one.runnerId}>
              <label htmlFor={`mail-${one.runnerId}`}>{one.name}</label>
              <input
                id={`mail-${one.runnerId}`}
                className="input"
                type="email"
                autoComplete="off"
                aria-label={words.addressOf(one.name)}
                value={typed[one.runnerId] ?? one.address ?? ""}
                onChange={(event) => setTyped({ ...typed, [one.runnerId]: event.target.value })}
              />
            </li>
          ))}
        </ul>
        <Button type="submit" disabled={Object.keys(typed).length === 0 || save.isPending}>
          {words.saveAddresses}
        </Button>
      </form>
    </details>
  );
}
