import { useQueryClient } from "@tanstack/react-query";
import { useNavigate } from "@tanstack/react-router";
import { type FormEvent, useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { sessionQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { startWords } from "../strings/start.ts";
import { Threshold } from "./threshold.tsx";
import { forgetHashCode, takeHashCode } from "./hash-code.ts";

export function SetUp() {
  const navigate = useNavigate();
  const queries = useQueryClient();
  const [form, setForm] = useState(() => ({
    code: takeHashCode()?.code ?? "",
    signInName: "",
    displayName: "",
    password: "",
  }));
  const set = (field: keyof typeof form) => (event: { target: { value: string } }) =>
    setForm((old) => ({ ...old, [field]: event.target.value }));
  const save = useSave({
    quietErrors: true,
    save: () => api.call("POST /api/setup", { body: form }),
    done: (session) => {
      forgetHashCode();
      queries.setQueryData(sessionQuery.queryKey, session);
      void navigate({ to: "/" });
    },
  });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save.mutate(undefined);
  };
  return (
    <Threshold title={startWords.setUpTitle} lead={startWords.setUpLead}>
      <form className="stack" onSubmit={submit}>
        <ProblemList error={save.error} />
        <TextField
          label={startWords.code}
          hint={startWords.codeHint}
          required
          autoComplete="off"
          value={form.code}
          onChange={set("code")}
        />
        <TextField
          label={startWords.displayName}
          required
          autoComplete="name"
          value={form.displayName}
          onChange={set("displayName")}
        />
        <TextField
          label={startWords.signInName}
          hint={startWords.signInNameHint}
          required
          autoComplete="username"
          value={form.signInName}
          onChange={set("signInName")}
        />
        <TextField
          label={startWords.password}
          hint={startWords.passwordHint}
          required
          minLength={10}
          type="password"
          autoComplete="new-password"
          value={form.password}
          onChange={set("password")}
        />
        <div>
          <Button type="submit" kind="go" big disabled={save.isPending}>
            {startWords.setUp}
          </Button>
        </div>
      </form>
    </Threshold>
  );
}
