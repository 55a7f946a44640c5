// Always in the head of the page: is anything still on this device only?
import { useState, useSyncExternalStore } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { dropFromOutbox, flushOutbox, useOutbox } from "../data/outbox.ts";
import { shellWords } from "../strings/common.ts";

function useOnline(): boolean {
  return useSyncExternalStore(
    (listener) => {
      addEventListener("online", listener);
      addEventListener("offline", listener);
      return () => {
        removeEventListener("online", listener);
        removeEventListener("offline", listener);
      };
    },
    () => navigator.onLine,
  );
}

export function OutboxMark() {
  const { waiting, refused } = useOutbox();
  const online = useOnline();
  const [open, setOpen] = useState(false);
  const parts = [
    online ? "" : shellWords.offline,
    waiting.length > 0 ? shellWords.toSend(waiting.length) : "",
    refused.length > 0 ? shellWords.refused(refused.length) : "",
  ].filter(Boolean);
  return (
    <>
      <span role="status" className="outbox">
        {parts.length > 0 && (
          <button type="button" className="outbox-button" onClick={() => setOpen(true)}>
            <span aria-hidden="true">{refused.length > 0 ? "!" : "↑"} </span>
            {parts.join(", ")}
          </button>
        )}
      </span>
      <DeskDialog title={shellWords.outboxTitle} open={open} onClose={() => setOpen(false)}>
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
    </>
  );
}
