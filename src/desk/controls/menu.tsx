// A button that opens a short list of actions. The list's machinery is fetched when it is opened first.
import { lazy, type ReactNode, Suspense, useRef, useState } from "react";
import type { Action } from "./menu-popover.tsx";

const MenuPopover = lazy(() => import("./menu-popover.tsx").then((part) => ({ default: part.MenuPopover })));

export function ActionMenu({
  label,
  children,
  actions,
}: {
  readonly label: string;
  readonly children?: ReactNode;
  readonly actions: readonly Action[];
}) {
  const opener = useRef<HTMLButtonElement>(null);
  const [open, setOpen] = useState(false);
  return (
    <>
      <button
        ref={opener}
        type="button"
        className="button"
        aria-label={label}
        aria-haspopup="menu"
        aria-expanded={open}
        onClick={() => setOpen(!open)}
        onKeyDown={(event) => {
          if (event.key !== "ArrowDown" && event.key !== "ArrowUp") return;
          event.preventDefault();
          setOpen(true);
        }}
      >
        {children ?? label}
      </button>
      {open && (
        <Suspense>
          <MenuPopover label={label} actions={actions} opener={opener} onClose={() => setOpen(false)} />
        </Suspense>
      )}
    </>
  );
}
