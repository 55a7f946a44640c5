// Deleting, in two sizes, each asked once more.
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { useFrame, usePhone } from "../app/use-phone.tsx";
import { api } from "../data/client.ts";

type Size = "phone" | "everything";

export function DeleteAll() {
  const { phone } = useFrame();
  const { outbox, trouble } = usePhone();
  const [asked, setAsked] = useState<Size>();
  const [said, setSaid] = useState("");
  const unsent = outbox.waiting.length + outbox.refused.length;
  const doIt = async (size: Size): Promise<void> => {
    if (size === "everything")
      try {
        await api.call("DELETE /api/runner/me");
      } catch {
        setAsked(undefined);
        setSaid("The server could not be reached, so nothing was deleted. Try again when there is a connection.");
        return;
      }
    await phone.wipe();
    location.replace("/run/");
  };
  return (
    <section>
      <h2>Delete</h2>
      {asked === undefined ? (
        <>
          <p className="said" aria-live="polite">
            {said}
          </p>
          <div className="stack">
            <Button big onClick={() => setAsked("phone")}>
              Empty this phone
            </Button>
            {trouble === "link-ended" ? null : (
              <Button big onClick={() => setAsked("everything")}>
                Delete everything about me
              </Button>
            )}
          </div>
        </>
      ) : (
        <div className="note" role="alert">
          <p>
            {asked === "phone"
              ? "Everything this page keeps on the phone goes. What is at your coach's stays there."
              : "Your runs, counts, reports and your name go from your coach's server and from this phone, for good. Your coach sees only that it happened. Backups on the coach's machine are replaced one by one; until then they may hold a copy."}
          </p>
          {unsent > 0 ? <p>{unsent} things were never sent and will be lost.</p> : null}
          <div className="stack">
            <Button big onClick={() => void doIt(asked)}>
              {asked === "phone" ? "Yes, empty it" : "Yes, delete everything"}
            </Button>
            <Button kind="go" big onClick={() => setAsked(undefined)}>
              No, keep it
            </Button>
          </div>
        </div>
      )}
    </section>
  );
}
