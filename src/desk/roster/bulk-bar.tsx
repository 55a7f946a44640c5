// What can be done with everyone picked at once.
import type { RosterRow, Runner, RunnerInput } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { rosterWords } from "../strings/groups.ts";
import { acceptable } from "./roster-filter.ts";
import { inputOf } from "./runner-input.ts";

export function BulkBar({
  rows,
  groupId,
  onDone,
}: {
  readonly rows: readonly RosterRow[];
  readonly groupId: string;
  readonly onDone: () => void;
}) {
  const accept = useSave({
    save: (ids: readonly string[]) =>
      api.call("POST /api/groups/:groupId/proposals", { params: { groupId }, body: { runnerIds: [...ids] } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (answer) => rosterWords.accepted(answer.accepted.length, answer.skipped.length),
    done: onDone,
  });
  const change = useSave({
    save: async (input: {
      readonly runners: readonly Runner[];
      readonly change: Partial<RunnerInput>;
      readonly said: (n: number) => string;
    }) => {
      const changeIds: string[] = [];
      for (const runner of input.runners) {
        const saved = await api.call("PUT /api/groups/:groupId/runners/:runnerId", {
          params: { groupId, runnerId: runner.id },
          body: { ...inputOf(runner), ...input.change },
        });
        if (saved.changeId !== null) changeIds.push(saved.changeId);
      }
      return changeIds;
    },
    groupId,
    changeId: (changeIds) => changeIds,
    said: (_, input) => input.said(input.runners.length),
    done: onDone,
  });
  if (rows.length === 0) return null;
  const runners = rows.map((row) => row.runner);
  const ready = acceptable(rows).map((row) => row.runner.id);
  const anyArchived = runners.some((runner) => runner.archived);
  return (
    <fieldset className="bulk row group no-print" aria-label={rosterWords.picked(rows.length)}>
      <strong>{rosterWords.picked(rows.length)}</strong>
      <Button kind="go" disabled={ready.length === 0 || accept.isPending} onClick={() => accept.mutate(ready)}>
        {rosterWords.accept}
      </Button>
      <Button
        disabled={change.isPending}
        onClick={() => change.mutate({ runners, change: { remote: true }, said: rosterWords.changedDone })}
      >
        {rosterWords.setRemote}
      </Button>
      <Button
        disabled={change.isPending}
        onClick={() => change.mutate({ runners, change: { remote: false }, said: rosterWords.changedDone })}
      >
        {rosterWords.unsetRemote}
      </Button>
      <Button
        disabled={change.isPending}
        onClick={() =>
          change.mutate({
            runners,
            change: { archived: !anyArchived },
            said: anyArchived ? rosterWords.unarchivedDone : rosterWords.archivedDone,
          })
        }
      >
        {anyArchived ? rosterWords.unarchive : rosterWords.archive}
      </Button>
    </fieldset>
  );
}
