// One's own password, sessions; for the owner also backups and the other coaches.
import { useQuery, useQueryClient } from "@tanstack/react-query";
import { useNavigate } from "@tanstack/react-router";
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api, makeId } from "../data/client.ts";
import { accountsQuery, sessionQuery } from "../data/queries.ts";
import { useBrowserFormat } from "../data/use-format.ts";
import { useSave } from "../data/use-save.ts";
import { Header, Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { accountWords, startWords } from "../strings/start.ts";

export function AccountPage() {
  const session = useQuery(sessionQuery);
  return (
    <>
      <Header />
      <Page>
        <Loaded query={session}>
          {({ account }) => (
            <>
              <PageTitle text={accountWords.title} />
              {account && <p className="muted">{accountWords.signedInAs(account.displayName, account.signInName)}</p>}
              <PasswordForm hasPassword={account?.hasPassword === true} />
              <Everywhere />
              {account?.owner === true && (
                <>
                  <Backups />
                  <Accounts />
                </>
              )}
            </>
          )}
        </Loaded>
      </Page>
    </>
  );
}

function PasswordForm({ hasPassword }: { readonly hasPassword: boolean }) {
  const [currentPassword, setCurrent] = useState("");
  const [newPassword, setNew] = useState("");
  const save = useSave({
    quietErrors: true,
    save: () =>
      api.call("PUT /api/account/password", { body: hasPassword ? { currentPassword, newPassword } : { newPassword } }),
    said: () => accountWords.changed,
    done: () => {
      setCurrent("");
      setNew("");
    },
  });
  return (
    <section>
      <h2 className="section-head">{accountWords.password}</h2>
      <form
        className="stack narrow"
        onSubmit={(event) => {
          event.preventDefault();
          save.mutate(undefined);
        }}
      >
        <ProblemList error={save.error} />
        {hasPassword && (
          <TextField
            label={accountWords.current}
            type="password"
            required
            autoComplete="current-password"
            value={currentPassword}
            onChange={(event) => setCurrent(event.target.value)}
          />
        )}
        <TextField
          label={accountWords.next}
          hint={startWords.passwordHint}
          type="password"
          required
          minLength={10}
          autoComplete="new-password"
          value={newPassword}
          onChange={(event) => setNew(event.target.value)}
        />
        <div>
          <Button type="submit" disabled={save.isPending}>
            {accountWords.change}
          </Button>
        </div>
      </form>
    </section>
  );
}

function Everywhere() {
  const navigate = useNavigate();
  const queries = useQueryClient();
  const end = useSave({
    save: () => api.call("DELETE /api/sessions"),
    done: () => {
      queries.clear();
      void navigate({ to: "/sign-in" });
    },
  });
  return (
    <section>
      <h2 className="section-head">{accountWords.everywhere}</h2>
      <p className="muted">{accountWords.everywhereLead}</p>
      <Button onClick={() => end.mutate(undefined)}>{accountWords.everywhere}</Button>
    </section>
  );
}

function Backups() {
  const format = useBrowserFormat();
  const list = useQuery({ queryKey: ["backups"], queryFn: () => api.call("GET /api/backups") });
  const make = useSave({
    save: () => api.call("POST /api/backups"),
    said: (made) => accountWords.backupMade(made.file),
  });
  return (
    <section>
      <h2 className="section-head">{accountWords.backups}</h2>
      <p className="muted">{accountWords.backupsLead}</p>
      <Button disabled={make.isPending} onClick={() => make.mutate(undefined)}>
        {accountWords.backupNow}
      </Button>
      <Loaded query={list}>
        {({ items }) =>
          items.length === 0 ? (
            <p className="muted below">{accountWords.noBackups}</p>
          ) : (
            <ul className="plain-list below">
              {items.map((one) => (
                <li key={one.file}>
                  {format.dateTime(one.at)} · {one.file} · {format.number(one.byteCount / 1e6, 1)} MB
                </li>
              ))}
            </ul>
          )
        }
      </Loaded>
    </section>
  );
}

function Accounts() {
  const list = useQuery(accountsQuery);
  const [form, setForm] = useState({ signInName: "", displayName: "", password: "" });
  const add = useSave({
    quietErrors: true,
    save: () => api.call("PUT /api/accounts/:accountId", { params: { accountId: makeId() }, body: form }),
    said: ({ account }) => accountWords.added(account.displayName),
    done: () => setForm({ signInName: "", displayName: "", password: "" }),
  });
  return (
    <section>
      <h2 className="section-head">{accountWords.accounts}</h2>
      <Loaded query={list}>
        {({ items }) => (
          <ul className="plain-list">
            {items.map((one) => (
              <li key={one.id}>
                {one.displayName} <span className="muted">{one.signInName}</span>
                {one.owner && `, ${accountWords.owner}`}
                {one.disabled && `, ${accountWords.disabled}`}
              </li>
            ))}
          </ul>
        )}
      </Loaded>
      <h3>{accountWords.addAccount}</h3>
      <form
        className="stack narrow"
        onSubmit={(event) => {
          event.preventDefault();
          add.mutate(undefined);
        }}
      >
        <ProblemList error={add.error} />
        <TextField
          label={startWords.theirName}
          required
          value={form.displayName}
          onChange={(event) => setForm({ ...form, displayName: event.target.value })}
        />
        <TextField
          label={startWords.signInName}
          hint={startWords.signInNameHint}
          required
          autoComplete="off"
          value={form.signInName}
          onChange={(event) => setForm({ ...form, signInName: event.target.value })}
        />
        <TextField
          label={startWords.password}
          hint={startWords.passwordHint}
          required
          minLength={10}
          type="password"
          autoComplete="new-password"
          value={form.password}
          onChange={(event) => setForm({ ...form, password: event.target.value })}
        />
        <div>
          <Button type="submit" disabled={add.isPending}>
            {accountWords.addAccount}
          </Button>
        </div>
      </form>
    </section>
  );
}
