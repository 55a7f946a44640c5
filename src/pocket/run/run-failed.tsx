// The run could not be begun or ended on the phone's disk. The beat goes on either way.
import { Button } from "../../ui/controls/button.tsx";
import { MakeRoom } from "../app/make-room.tsx";

export interface RunFailure {
  readonly at: "start" | "end";
  readonly isFull: boolean;
}

export interface RunFailedProps {
  readonly failure: RunFailure | undefined;
  readonly onRecord: () => void;
}

export function RunFailed({ failure, onRecord }: RunFailedProps) {
  if (failure === undefined) return null;
  const why = failure.isFull ? "The phone is full" : "The phone did not keep it";
  return (
    <div className="note" role="alert">
      {failure.at === "start" ? (
        <p>{why}, so this run is not recorded. The beat goes on.</p>
      ) : (
        <p>
          {why}. {failure.isFull ? "Make room below, then finish again" : "Finish again"}: nothing of the run is lost
          while this page is open.
        </p>
      )}
      {failure.isFull ? <MakeRoom /> : null}
      {failure.at === "start" ? (
        <Button big onClick={onRecord}>
          Record from now
        </Button>
      ) : null}
    </div>
  );
}
