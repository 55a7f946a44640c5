// Redraws with the screen while something moves, and not at all when nothing does.
import { useEffect, useState } from "react";

export function useNow(read: () => number, everyMs: number): number {
  const [now, setNow] = useState(read);
  useEffect(() => {
    const timer = setInterval(() => setNow(read()), everyMs);
    return () => clearInterval(timer);
  }, [read, everyMs]);
  return now;
}
