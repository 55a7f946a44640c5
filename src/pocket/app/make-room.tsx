// When the phone is full: the oldest run that the coach has already may go. What was never sent is never offered.
import { Button } from "../../ui/controls/button.tsx";
import { useFormat, useFrame, usePhone } from "./use-phone.tsx";

/** The browser has no more room for this page; anything else is another fault. */
export function isFullError(error: unknown): boolean {
  return error instanceof Error && error.name === "QuotaExceededError";
}

export function MakeRoom() {
  const { phone } = useFrame();
  const { runs } = usePhone();
  const format = useFormat();
  const oldest = runs.findLast((run) => run.state === "sent");
  if (oldest === undefined)
    return <p>There is no sent run to remove: free some space on the phone, for example in its photos.</p>;
  return (
    <Button big onClick={() => void phone.forgetRun(oldest.id)}>
      Remove the run of {format.dateShort(new Date(oldest.startedAtMs).toISOString())} from the phone; your coach has it
      ({format.number(oldest.byteCount / 1e6, 1)} MB)
    </Button>
  );
}
