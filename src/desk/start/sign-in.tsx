import { useQuery, useQueryClient } from "@tanstack/react-query";
import { Navigate, useNavigate } from "@tanstack/react-router";
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { sessionQuery, setupQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { startWords } from "../strings/start.ts";
import { takeHashCode } from "./hash-code.ts";
import { Threshold } from "./threshold.tsx";

export function SignIn() {
  const navigate = useNavigate();
  const queries = useQueryClient();
  const setup = useQuery(setupQuery);
  const [code] = useState(takeHashCode);
  const [signInName, setName] = useState("");
  const [password, setPassword] = useState("");
  const enter = (session: unknown): void => {
    queries.setQueryData(sessionQuery.queryKey, session as never);
    void navigate({ to: "/" });
  };
  const byPassword = useSave({
    quietErrors: true,
    save: () => api.call("POST /api/session", { body: { signInName, password } }),
    done: enter,
  });
  const byCode = useSave({
    quietErrors: true,
    save: () => api.call("POST /api/session/code", { body: { code } }),
    done: enter,
  });
  if (setup.data?.needsSetup === true && code === "") return <Navigate to="/set-up" replace />;
  return (
    <Threshold title={startWords.signInTitle}>
      {code !== "" && (
        <section className="stack" aria-labelledby="by-code">
          <h2 id="by-code">{startWords.codeTitle}</h2>
          <p className="muted">{startWords.codeLead}</p>
          <ProblemList error={byCode.error} />
          <div>
            <Button kind="go" big disabled={byCode.isPending} onClick={() => byCode.mutate(undefined)}>
              {startWords.signInOnce}
            </Button>
          </div>
          <h2>{startWords.otherWay}</h2>
        </section>
      )}
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
          <Button type="submit" kind={code === "" ? "go" : "plain"} big disabled={byPassword.isPending}>
            {startWords.signIn}
          </Button>
        </div>
      </form>
    </Threshold>
  );
}
