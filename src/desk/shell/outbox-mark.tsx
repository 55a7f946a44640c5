// Always in the head of the page: is anything still on this device only?
import { lazy, Suspense, useState, useSyncExternalStore } from "react";
import { useOutbox } from "../data/outbox.ts";
import { shellWords } from "../strings/common.ts";

const OutboxDialog = lazy(() => import("./outbox-dialog.tsx").then((part) => ({ default: part.OutboxDialog })));

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
      <output className="outbox">
        {parts.length > 0 && (
          <button type="button" className="outbox-button" onClick={() => setOpen(true)}>
            <span aria-hidden="true">{refused.length > 0 ? "!" : "↑"} </span>
            {parts.join(", ")}
          </button>
        )}
      </output>
      {open && (
        <Suspense>
          <OutboxDialog onClose={() => setOpen(false)} />
        </Suspense>
      )}
    </>
  );
}
