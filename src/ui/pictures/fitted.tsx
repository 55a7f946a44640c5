// Pictures are drawn at their real width, so that their words stay readable at 320 px and on paper.
import { type ReactNode, useLayoutEffect, useRef, useState } from "react";

export interface FittedProps {
  /** Used until the element is measured, and where nothing can be measured (print, server). */
  readonly fallbackPx?: number;
  readonly minPx?: number;
  readonly maxPx?: number;
  readonly className?: string;
  readonly children: (widthPx: number) => ReactNode;
}

export function Fitted({ fallbackPx = 560, minPx = 120, maxPx = 1200, className, children }: FittedProps) {
  const holder = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(fallbackPx);
  useLayoutEffect(() => {
    const element = holder.current;
    if (!element) return undefined;
    const measure = (): void => {
      const found = Math.floor(element.clientWidth);
      if (found > 0) setWidth(Math.min(maxPx, Math.max(minPx, found)));
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [minPx, maxPx]);
  return (
    <div ref={holder} className={className === undefined ? "fitted" : `fitted ${className}`}>
      {children(width)}
    </div>
  );
}
