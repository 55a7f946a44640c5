// "g" then a letter goes somewhere; "?" shows the list. Never while someone is typing.
import { useNavigate } from "@tanstack/react-router";
import { useEffect, useState } from "react";
import { DeskDialog } from "../controls/dialog.tsx";
import { shellWords, shortcutList } from "../strings/common.ts";

const PLACES: Readonly<Record<string, string>> = {
  e: "evening",
  w: "week",
  r: "runners",
  p: "programme",
  s: "settings",
};

export function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    target.closest("input, textarea, select, [contenteditable], [role=dialog], [role=menu]") !== null
  );
}

export function Shortcuts({ groupId }: { readonly groupId: string | undefined }) {
  const navigate = useNavigate();
  const [open, setOpen] = useState(false);
  useEffect(() => {
    let leader = 0;
    const onKey = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
      if (event.key === "?") setOpen(true);
      else if (event.key === "g") leader = Date.now();
      else if (Date.now() - leader < 1500 && groupId !== undefined) {
        const place = PLACES[event.key];
        leader = 0;
        if (place !== undefined) {
          event.preventDefault();
          void navigate({ to: `/g/$groupId/${place}` as "/g/$groupId/week", params: { groupId } });
        }
      }
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, [groupId, navigate]);
  return (
    <DeskDialog title={shellWords.shortcuts} open={open} onClose={() => setOpen(false)}>
      <ShortcutTable />
    </DeskDialog>
  );
}

export function ShortcutTable() {
  return (
    <dl className="facts">
      {shortcutList.map((one) => (
        <div key={one.does} className="facts-row">
          <dt>
            {one.keys.map((key) => (
              <span key={key}>
                <kbd>{key}</kbd>{" "}
              </span>
            ))}
          </dt>
          <dd>{one.does}</dd>
        </div>
      ))}
    </dl>
  );
}
