// A question mark beside a number: what it is in two sentences, and where that comes from.
import { lazy, Suspense, useRef, useState } from "react";
import { type HelpTopic, helpTopics, helpWords } from "../strings/help.ts";

const HelpPopover = lazy(() => import("./help-popover.tsx").then((part) => ({ default: part.HelpPopover })));

export function HelpMark({ topic }: { readonly topic: HelpTopic }) {
  const mark = useRef<HTMLButtonElement>(null);
  const [open, setOpen] = useState(false);
  return (
    <>
      <button
        ref={mark}
        type="button"
        className="help-mark"
        aria-label={helpWords.about(helpTopics[topic].title)}
        aria-haspopup="dialog"
        aria-expanded={open}
        onClick={() => setOpen(!open)}
      >
        ?
      </button>
      {open && (
        <Suspense>
          <HelpPopover topic={topic} mark={mark} onClose={() => setOpen(false)} />
        </Suspense>
      )}
    </>
  );
}
