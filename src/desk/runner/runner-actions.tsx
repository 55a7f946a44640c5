// What can be done with a whole runner: edit, print, share, export, archive, delete.
import { Link, useNavigate } from "@tanstack/react-router";
import { useState } from "react";
import type { Runner } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Confirm } from "../controls/confirm.tsx";
import { ActionMenu } from "../controls/menu.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { RunnerFormDialog } from "../roster/runner-form.tsx";
import { inputOf } from "../roster/runner-input.ts";
import { commonWords } from "../strings/common.ts";
import { rosterWords } from "../strings/groups.ts";
import { runnerWords } from "../strings/runner.ts";
import { LinkDialog } from "./link-dialog.tsx";

export function RunnerActions({ groupId, runner }: { readonly groupId: string; readonly runner: Runner }) {
  const [open, setOpen] = useState<"edit" | "link" | "delete">();
  const navigate = useNavigate();
  const close = (): void => setOpen(undefined);
  const archive = useSave({
    save: () =>
      api.call("PUT /api/groups/:groupId/runners/:runnerId", {
        params: { groupId, runnerId: runner.id },
        body: { ...inputOf(runner), archived: !runner.archived },
      }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (answer) => (answer.item.archived ? rosterWords.archivedDone(1) : rosterWords.unarchivedDone(1)),
  });
  const remove = useSave({
    save: () => api.call("DELETE /api/runners/:runnerId", { params: { runnerId: runner.id } }),
    said: (answer) => `${runnerWords.deleted(runner.name)} ${answer.note}`.trim(),
    done: () => void navigate({ to: "/g/$groupId/runners", params: { groupId } }),
  });
  return (
    <div className="row no-print">
      <Button onClick={() => setOpen("edit")}>{runnerWords.edit}</Button>
      <Button onClick={() => setOpen("link")}>{runnerWords.shareLink}</Button>
      <Link className="button" to="/g/$groupId/runners/$runnerId/print" params={{ groupId, runnerId: runner.id }}>
        {runnerWords.printPage}
      </Link>
      <ActionMenu
        label={runnerWords.more}
        actions={[
          {
            id: "export",
            text: runnerWords.exportZip,
            act: () =>
              location.assign(
                api.address("GET /api/runners/:runnerId/export.zip", { params: { runnerId: runner.id } }),
              ),
          },
          {
            id: "archive",
            text: runner.archived ? rosterWords.unarchive : runnerWords.archive,
            act: () => archive.mutate(undefined),
          },
          { id: "delete", text: runnerWords.deletePerson, act: () => setOpen("delete") },
        ]}
      >
        {commonWords.more}
      </ActionMenu>
      {open === "edit" && <RunnerFormDialog groupId={groupId} runner={runner} onClose={close} />}
      {open === "link" && <LinkDialog groupId={groupId} runnerId={runner.id} onClose={close} />}
      <Confirm
        title={runnerWords.deleteTitle}
        open={open === "delete"}
        onClose={close}
        onConfirm={() => remove.mutate(undefined)}
        action={runnerWords.deletePerson}
        typed={{ label: runnerWords.deleteType(runner.name), text: runner.name }}
      >
        <p>{runnerWords.deleteLead}</p>
      </Confirm>
    </div>
  );
}
