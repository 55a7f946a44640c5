// The phone's memory for every screen, and moving between screens with the phone's own back button.
import { createContext, type ReactNode, useContext, useEffect, useMemo, useState, useSyncExternalStore } from "react";
import { createFormat, type Format } from "../../ui/words/format.ts";
import type { Phone, PhoneState } from "./phone.ts";

export type Screen =
  | { readonly name: "today" }
  | { readonly name: "consent" }
  | { readonly name: "count" }
  | { readonly name: "tap" }
  | { readonly name: "learn"; readonly sessionId?: string }
  | { readonly name: "ready"; readonly sessionId?: string }
  | { readonly name: "run"; readonly sessionId?: string; readonly resumeRunId?: string }
  | { readonly name: "after"; readonly runId?: string }
  | { readonly name: "pain" }
  | { readonly name: "kept" };

interface Frame {
  readonly phone: Phone;
  readonly screen: Screen;
  /** Opens a screen; `replace` leaves the present one out of the history. */
  readonly go: (screen: Screen, replace?: boolean) => void;
}

const FrameContext = createContext<Frame | null>(null);

export function PhoneProvider({ phone, children }: { readonly phone: Phone; readonly children: ReactNode }) {
  const [screen, setScreen] = useState<Screen>({ name: "today" });
  useEffect(() => {
    const onPop = (event: PopStateEvent): void => setScreen((event.state as Screen | null) ?? { name: "today" });
    addEventListener("popstate", onPop);
    return () => removeEventListener("popstate", onPop);
  }, []);
  useEffect(() => {
    scrollTo(0, 0);
    document.querySelector<HTMLElement>("main h1")?.focus({ preventScroll: true });
  }, [screen]);
  const frame = useMemo<Frame>(
    () => ({
      phone,
      screen,
      go: (next, replace = false) => {
        if (replace) history.replaceState(next, "");
        else history.pushState(next, "");
        setScreen(next);
      },
    }),
    [phone, screen],
  );
  return <FrameContext.Provider value={frame}>{children}</FrameContext.Provider>;
}

export function useFrame(): Frame {
  const frame = useContext(FrameContext);
  if (frame === null) throw new Error("useFrame: outside PhoneProvider");
  return frame;
}

export function usePhone(): PhoneState {
  const { phone } = useFrame();
  return useSyncExternalStore(phone.subscribe, phone.state);
}

/** Numbers as the group reads them. */
export function useFormat(): Format {
  const settings = usePhone().today?.settings;
  return useMemo(
    () =>
      inWords(
        createFormat({
          locale: settings?.locale || "en",
          feet: settings?.feetShown ?? "both",
          speed: settings?.distanceUnit === "mile" ? "min-per-mile" : "min-per-km",
        }),
      ),
    [settings],
  );
}

/** A runner is told steps a minute, not an abbreviation. */
function inWords(format: Format): Format {
  const rateUnit = format.reading.feet === "one" ? "steps a minute, one foot" : "steps a minute";
  return { ...format, rateUnit, rate: (spm, digits) => `${format.rateValue(spm, digits)} ${rateUnit}` };
}
