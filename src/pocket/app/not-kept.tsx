// Something that was to be kept and was not: said, with the way out, and the screen stays as it is.
import { useState } from "react";
import { isFullError, MakeRoom } from "./make-room.tsx";

type Why = "full" | "failed";

/** `keep` runs an act that stores something; when that fails `why` says so and nothing typed is gone. */
export function useKeep(): { readonly keep: (act: () => Promise<void>) => void; readonly why: Why | undefined } {
  const [why, setWhy] = useState<Why>();
  return {
    why,
    keep: (act) => {
      act().then(
        () => setWhy(undefined),
        (error: unknown) => setWhy(isFullError(error) ? "full" : "failed"),
      );
    },
  };
}

export function NotKept({ why }: { readonly why: Why | undefined }) {
  if (why === undefined) return null;
  return (
    <div className="note strong" role="alert">
      <p>
        {why === "full"
          ? "The phone is full, so this was not kept and not sent. Make room, then press again."
          : "The phone did not keep this, so it was not sent. Press again."}
      </p>
      {why === "full" ? <MakeRoom /> : null}
    </div>
  );
}
