// How full the battery is, where the browser tells.
import { useEffect, useState } from "react";

interface BatteryManager extends EventTarget {
  readonly level: number;
  readonly charging: boolean;
}

/** Below this the page stops what only costs light and shaking. */
export const LOW_BATTERY_SHARE = 0.15;

/** Share of a full battery while it runs down; undefined while charging or where nothing is told. */
export function useBattery(): number | undefined {
  const [level, setLevel] = useState<number>();
  useEffect(() => {
    const { getBattery } = navigator as { getBattery?: () => Promise<BatteryManager> };
    let battery: BatteryManager | undefined;
    let gone = false;
    const read = (): void => {
      if (battery !== undefined) setLevel(battery.charging ? undefined : battery.level);
    };
    getBattery?.call(navigator).then(
      (found) => {
        if (gone) return;
        battery = found;
        found.addEventListener("levelchange", read);
        found.addEventListener("chargingchange", read);
        read();
      },
      () => undefined,
    );
    return () => {
      gone = true;
      battery?.removeEventListener("levelchange", read);
      battery?.removeEventListener("chargingchange", read);
    };
  }, []);
  return level;
}
