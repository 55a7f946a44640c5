import { useQuery, useQueryClient } from "@tanstack/react-query";
import { Navigate, useNavigate } from "@tanstack/react-router";
import { useEffect, useRef, useState } from "react";
import type { CallOutput } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { sessionQuery, setupQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { startWords } from "../strings/start.ts";
import { forgetHashCode, takeHashCode } from "./hash-code.ts";
import { Threshold } from "./threshold.tsx";

export function SignIn() {
  const navigate = useNavigate();
  const queries = useQueryClient();
  const setup = useQuery(setupQuery);
  const [hash] = useState(takeHashCode);
  const [signInName, setName] = useState("");
  const [password, setPassword] = useState("");
  const enter = (session: CallOutput<"POST /api/session">): void => {
    forgetHashCode();
    queries.setQueryData(sessionQuery.queryKey, session);
    void navigate({ to: "/" });
  };
  const byPassword = useSave({
    quietErrors: true,
    save: () => api.call("POST /api/session", { body: { signInName, password } }),
    done: enter,
  });
  const byCode = useSave({
    quietErrors: true,
    save: (code: string) => api.call("POST /api/session/code", { body: { code } }),
    done: enter,
  });
  // The printed address signs in by itself, once; a page drawn twice must not use the code up twice.
  const used = useRef(false);
  const { mutate } = byCode;
  useEffect(() => {
    if (hash?.kind !== "sign-in" || used.current) return;
    used.current = true;
    mutate(hash.code);
  }, [hash, mutate]);
  if (hash?.kind === "set-up" || (setup.data?.needsSetup === true && hash === undefined))
    return <Navigate to="/set-up" replace />;
  const entering = hash !== undefined && byCode.error === null;
  return (
    <Threshold title={startWords.signInTitle} {...(entering ? { lead: startWords.signingIn } : {})}>
      <ProblemList error={byCode.error} />
      <form
        className="stack"
        onSubmit={(event) => {
          event.preventDefault();
          byPassword.mutate(undefined);
        }}
      >
        <ProblemList error={byPassword.error} />
        <TextField
          label={startWords.signInName}
          required
          autoComplete="username"
          value={signInName}
          onChange={(event) => setName(event.target.value)}
        />
        <TextField
          label={startWords.password}
          required
          type="password"
          autoComplete="current-password"
          value={password}
          onChange={(event) => setPassword(event.target.value)}
        />
        <div>
          <Button type="submit" kind="go" big disabled={byPassword.isPending}>
            {startWords.signIn}
          </Button>
        </div>
        <p className="muted small">{startWords.forgotten}</p>
      </form>
    </Threshold>
  );
}
