// Short messages at the foot of the screen: what was done, and the way back.
import { createContext, type ReactNode, useCallback, useContext, useMemo, useRef, useState } from "react";
import { type Notice, withNotice } from "./notice-queue.ts";

export interface Notices {
  readonly items: readonly Notice[];
  readonly say: (text: string, undo?: () => void) => void;
  readonly warn: (text: string) => void;
  readonly dismiss: (key: number) => void;
}

const NoticesContext = createContext<Notices | undefined>(undefined);

/** Long enough to read and to reach the button; WCAG 2.2.1 is met because the history page can undo later too. */
const LASTS_MS = 12_000;

export function NoticesProvider({ children }: { readonly children: ReactNode }) {
  const [items, setItems] = useState<readonly Notice[]>([]);
  const nextKey = useRef(1);
  const dismiss = useCallback((key: number) => setItems((all) => all.filter((one) => one.key !== key)), []);
  const add = useCallback(
    (notice: Omit<Notice, "key">) => {
      const key = nextKey.current;
      nextKey.current += 1;
      setItems((all) => withNotice(all, { ...notice, key }));
      if (notice.failed !== true) setTimeout(() => dismiss(key), LASTS_MS);
    },
    [dismiss],
  );
  const value = useMemo<Notices>(
    () => ({
      items,
      say: (text, undo) => add(undo === undefined ? { text } : { text, undo }),
      warn: (text) => add({ text, failed: true }),
      dismiss,
    }),
    [items, add, dismiss],
  );
  return <NoticesContext value={value}>{children}</NoticesContext>;
}

export function useNotices(): Notices {
  const notices = useContext(NoticesContext);
  if (!notices) throw new TypeError("useNotices: must be inside NoticesProvider");
  return notices;
}
