// The mark, the way back, and one line about what waits.
import { useFrame, usePhone } from "./use-phone.tsx";

export function TopBar({ back = false }: { readonly back?: boolean }) {
  const { go } = useFrame();
  return (
    <header className="top">
      {back ? (
        <button type="button" className="top-back" onClick={() => history.back()}>
          <span aria-hidden="true">‹</span> Back
        </button>
      ) : (
        <span className="top-mark">
          <svg viewBox="0 0 24 8" width="30" height="10" aria-hidden="true">
            <path d="M0 1h10.500v6H0zM13.500 1H24v6H13.500z" />
          </svg>
          Spondee
        </span>
      )}
      <Waiting onOpen={() => go({ name: "kept" })} />
    </header>
  );
}

function Waiting({ onOpen }: { readonly onOpen: () => void }) {
  const { outbox, trouble, hasLink, today } = usePhone();
  if (!hasLink || today === undefined) return null;
  const count = outbox.waiting.length;
  const words =
    trouble === "link-ended"
      ? "Link has ended"
      : outbox.refused.length > 0
        ? "Needs a look"
        : count === 0
          ? "All sent"
          : outbox.sending
            ? "Sending"
            : `${count} to send`;
  return (
    <button type="button" className="top-kept" onClick={onOpen} aria-label={`${words}. What is kept and sent`}>
      {words}
    </button>
  );
}
