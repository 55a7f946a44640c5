// The coach's own mail server. The password goes in and never comes out.
import { type FormEvent, useState } from "react";
import type { MailServer } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextField } from "../../ui/controls/field.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { commonWords } from "../strings/common.ts";
import { handOutWords } from "../strings/hand-outs.ts";

const words = handOutWords.mail.server;

export function MailServerDialog({ server, onClose }: { readonly server: MailServer; readonly onClose: () => void }) {
  const [form, setForm] = useState({
    host: server.host,
    port: String(server.port),
    encryption: server.encryption,
    user: server.user ?? "",
    password: "",
    from: server.from,
  });
  const set = (field: keyof typeof form) => (event: { target: { value: string } }) =>
    setForm((old) => ({ ...old, [field]: event.target.value }));
  const save = useSave({
    quietErrors: true,
    save: () =>
      api.call("PUT /api/mail/server", {
        body: {
          host: form.host.trim(),
          port: Number(form.port),
          encryption: form.encryption,
          user: form.user.trim() === "" ? null : form.user.trim(),
          from: form.from.trim(),
          ...(form.password === "" ? {} : { password: form.password }),
        },
      }),
    said: () => words.saved,
    done: onClose,
  });
  const forget = useSave({
    save: () => api.call("DELETE /api/mail/server"),
    said: () => words.forgotten,
    done: onClose,
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save.mutate(undefined);
  };
  return (
    <DeskDialog title={words.title} open onClose={onClose}>
      <form className="stack" onSubmit={submit}>
        <p className="muted">{words.lead}</p>
        <ProblemList error={save.error} />
        <TextField label={words.host} required autoComplete="off" value={form.host} onChange={set("host")} />
        <div className="form-columns">
          <SelectField
            label={words.encryption}
            value={form.encryption}
            onChange={(event) => {
              const encryption = event.target.value as MailServer["encryption"];
              const usual = { starttls: "587", tls: "465", none: "25" }[encryption];
              setForm((old) => ({ ...old, encryption, port: usual }));
            }}
          >
            {Object.entries(words.encryptions).map(([value, text]) => (
              <option key={value} value={value}>
                {text}
              </option>
            ))}
          </SelectField>
          <TextField
            label={words.port}
            inputMode="numeric"
            type="number"
            min={1}
            max={65535}
            required
            value={form.port}
            onChange={set("port")}
          />
          <TextField label={words.user} autoComplete="off" value={form.user} onChange={set("user")} />
          <TextField
            label={words.password}
            {...(server.hasPassword ? { hint: words.passwordKept } : {})}
            type="password"
            autoComplete="new-password"
            value={form.password}
            onChange={set("password")}
          />
        </div>
        <TextField label={words.from} type="email" required value={form.from} onChange={set("from")} />
        <div className="row">
          <Button type="submit" kind="go" disabled={save.isPending}>
            {words.save}
          </Button>
          {server.configured && (
            <Button disabled={forget.isPending} onClick={() => forget.mutate(undefined)}>
              {words.forget}
            </Button>
          )}
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}
