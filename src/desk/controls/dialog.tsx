// A dialog over the page: focus goes in, stays in, and comes back to where it was. Its machinery is fetched after the page is
// there (fetchDialogsLater), for no first view needs it.
import { lazy, Suspense } from "react";
import type { DialogFrameProps } from "./dialog-frame.tsx";

interface DeskDialogProps extends DialogFrameProps {
  readonly open: boolean;
}

const loadFrame = () => import("./dialog-frame.tsx");
const DialogFrame = lazy(() => loadFrame().then((part) => ({ default: part.DialogFrame })));

export function DeskDialog({ open, ...rest }: DeskDialogProps) {
  if (!open) return null;
  return (
    <Suspense>
      <DialogFrame {...rest} />
    </Suspense>
  );
}

/** So that the first dialog opens at once, and opens without a network too. */
export function fetchDialogsLater(): void {
  addEventListener("load", () => setTimeout(() => void loadFrame().catch(() => undefined), 1500));
}
