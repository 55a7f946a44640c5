// What is still on this device only, and what the server would not take.
import { Button } from "../../ui/controls/button.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { dropFromOutbox, flushOutbox, useOutbox } from "../data/outbox.ts";
import { shellWords } from "../strings/common.ts";

export function OutboxDialog({ onClose }: { readonly onClose: () => void }) {
  const { waiting, refused } = useOutbox();
  return (
    <DeskDialog title={shellWords.outboxTitle} open onClose={onClose}>
      {waiting.length === 0 && refused.length === 0 && <p>{shellWords.outboxNothing}</p>}
      {waiting.length > 0 && (
        <>
          <p>{shellWords.outboxWaiting}</p>
          <ul className="plain-list">
            {waiting.map((write) => (
              <li key={write.id}>
                {shellWords.kinds[write.kind] ?? write.kind},{" "}
                {new Date(write.queuedAtMs).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}
              </li>
            ))}
          </ul>
          <Button kind="go" onClick={() => void flushOutbox()}>
            {shellWords.sendNow}
          </Button>
        </>
      )}
      {refused.length > 0 && (
        <>
          <p>{shellWords.outboxRefused}</p>
          <ul className="plain-list">
            {refused.map(({ write, because }) => (
              <li key={write.id} className="row">
                <span>
                  {shellWords.kinds[write.kind] ?? write.kind}: {because}
                </span>
                <Button kind="quiet" onClick={() => void dropFromOutbox(write.id)}>
                  {shellWords.drop}
                </Button>
              </li>
            ))}
          </ul>
        </>
      )}
    </DeskDialog>
  );
}
