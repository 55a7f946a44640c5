// Light, dark or as the system: remembered on this device, applied before the first paint by public/theme.js.
import { useSyncExternalStore } from "react";

export type Theme = "auto" | "light" | "dark";

const KEY = "spondee-theme";
const listeners = new Set<() => void>();

function read(): Theme {
  const theme = document.documentElement.dataset["theme"];
  return theme === "light" || theme === "dark" ? theme : "auto";
}

export function setTheme(theme: Theme): void {
  if (theme === "auto") delete document.documentElement.dataset["theme"];
  else document.documentElement.dataset["theme"] = theme;
  try {
    if (theme === "auto") localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, theme);
  } catch {
    // Not remembered then; it still holds until the page is closed.
  }
  for (const listener of listeners) listener();
}

export function useTheme(): Theme {
  return useSyncExternalStore((listener) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  }, read);
}
