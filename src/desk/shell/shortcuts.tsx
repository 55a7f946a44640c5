// "g" then a letter goes somewhere; "?" shows the list. Never while someone is typing.
import { useNavigate } from "@tanstack/react-router";
import { lazy, Suspense, useEffect, useState } from "react";
import { isTyping } from "./is-typing.ts";

const PLACES: Readonly<Record<string, string>> = {
  e: "evening",
  w: "week",
  r: "runners",
  p: "programme",
  s: "settings",
};

const ShortcutDialog = lazy(() => import("./shortcut-dialog.tsx").then((part) => ({ default: part.ShortcutDialog })));

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
  return open ? (
    <Suspense>
      <ShortcutDialog onClose={() => setOpen(false)} />
    </Suspense>
  ) : null;
}
