// Who else may open this group: coaches decide, assistants measure.
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextField } from "../../ui/controls/field.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { membersQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { commonWords } from "../strings/common.ts";
import { settingsWords as words } from "../strings/programme.ts";

export function Members({ groupId, canChange }: { readonly groupId: string; readonly canChange: boolean }) {
  const members = useQuery(membersQuery(groupId));
  const [signInName, setName] = useState("");
  const [role, setRole] = useState<"coach" | "assistant">("assistant");
  const invite = useSave({
    quietErrors: true,
    save: () => api.call("POST /api/groups/:groupId/members", { params: { groupId }, body: { signInName, role } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (answer) => words.invited(answer.item.displayName),
    done: () => setName(""),
  });
  const remove = useSave({
    save: (accountId: string) =>
      api.call("DELETE /api/groups/:groupId/members/:accountId", { params: { groupId, accountId } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.memberRemoved,
  });
  return (
    <section>
      <h2 className="section-head">{words.members}</h2>
      <Loaded query={members}>
        {({ items }) => (
          <ul className="lines">
            {items.map((member) => (
              <li key={member.accountId} className="line">
                <span className="line-when">{words.roles[member.role]}</span>
                <span>
                  {member.displayName} <span className="muted small">{member.signInName}</span>
                </span>
                {canChange && items.length > 1 && (
                  <Button
                    kind="quiet"
                    aria-label={words.removeMember(member.displayName)}
                    onClick={() => remove.mutate(member.accountId)}
                  >
                    {commonWords.remove}
                  </Button>
                )}
              </li>
            ))}
          </ul>
        )}
      </Loaded>
      {canChange && (
        <form
          className="row row-end"
          onSubmit={(event) => {
            event.preventDefault();
            invite.mutate(undefined);
          }}
        >
          <ProblemList error={invite.error} />
          <TextField
            label={words.inviteName}
            required
            autoComplete="off"
            value={signInName}
            onChange={(event) => setName(event.target.value)}
          />
          <SelectField
            label={words.invite}
            value={role}
            onChange={(event) => setRole(event.target.value as typeof role)}
          >
            {Object.entries(words.roles).map(([value, text]) => (
              <option key={value} value={value}>
                {text}
              </option>
            ))}
          </SelectField>
          <Button type="submit" disabled={invite.isPending}>
            {words.invite}
          </Button>
        </form>
      )}
    </section>
  );
}
