// Every message exactly as it would go out; what is not ticked stays here.
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import type { CallInput } from "../../api/index.ts";
import { describeProblem } from "../../engine/quantities/problem.ts";
import { Button } from "../../ui/controls/button.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { ProblemList } from "../controls/problem-list.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { commonWords } from "../strings/common.ts";
import { handOutWords } from "../strings/hand-outs.ts";

const words = handOutWords.mail;

interface MailPreviewProps {
  readonly groupId: string;
  readonly weekOn: string;
  readonly drafts: CallInput<"POST /api/groups/:groupId/mail/preview">["body"]["drafts"];
  readonly onClose: () => void;
}

export function MailPreviewDialog({ groupId, weekOn, drafts, onClose }: MailPreviewProps) {
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const preview = useQuery({
    queryKey: ["mail-preview", groupId, drafts],
    queryFn: () => api.call("POST /api/groups/:groupId/mail/preview", { params: { groupId }, body: { drafts } }),
  });
  const ready = (preview.data?.items ?? []).filter((one) => one.problems.length === 0 && !left.has(one.runnerId));
  const send = useSave({
    quietErrors: true,
    save: () =>
      api.call("POST /api/groups/:groupId/mail", {
        params: { groupId },
        body: {
          weekOn,
          messages: ready.map(({ runnerId, subject, text, digest }) => ({ runnerId, subject, text, digest })),
        },
      }),
    said: (sent) =>
      [
        words.queued(sent.queued.length),
        ...(sent.refused.length === 0 ? [] : [words.refused(sent.refused.length)]),
      ].join(" "),
    done: onClose,
  });
  return (
    <DeskDialog title={words.preview} open onClose={onClose} wide>
      <div className="stack">
        <ProblemList error={send.error} />
        <Loaded query={preview}>
          {({ items }) => (
            <ul className="plain-list">
              {items.map((one) => (
                <li key={one.runnerId} className="preview">
                  <label className="check">
                    <input
                      type="checkbox"
                      aria-label={words.pick(one.name)}
                      disabled={one.problems.length > 0}
                      checked={one.problems.length === 0 && !left.has(one.runnerId)}
                      onChange={(event) =>
                        setLeft((old) => {
                          const next = new Set(old);
                          if (event.target.checked) next.delete(one.runnerId);
                          else next.add(one.runnerId);
                          return next;
                        })
                      }
                    />
                    <strong>{one.name}</strong>
                  </label>
                  {one.problems.map((problem) => (
                    <p key={problem.code} className="notice">
                      {describeProblem(problem)}
                    </p>
                  ))}
                  <dl className="small preview-head">
                    <dt>{words.from}</dt>
                    <dd>{one.from}</dd>
                    <dt>{words.to}</dt>
                    <dd>{one.to}</dd>
                    <dt>{words.subject}</dt>
                    <dd>{one.subject}</dd>
                  </dl>
                  <pre className="message-text">{one.text}</pre>
                </li>
              ))}
            </ul>
          )}
        </Loaded>
        <div className="row preview-go">
          <Button kind="go" disabled={ready.length === 0 || send.isPending} onClick={() => send.mutate(undefined)}>
            {words.send(ready.length)}
          </Button>
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </div>
    </DeskDialog>
  );
}
