// What the runner chose about sound and touch; stays on the phone.
import { CLICK_SOUNDS, type ClickId } from "../../engine/beat/clicks.ts";

export interface Preferences {
  readonly click: ClickId;
  /** 0 to 1, as the slider stands. */
  readonly volumeShare: number;
  readonly vibrate: boolean;
  /** Play through the phone's media player, so that the beat may go on with the screen off. */
  readonly throughPlayer: boolean;
}

export function defaultPreferences(groupClick: string | undefined): Preferences {
  const click = CLICK_SOUNDS.find((sound) => sound.id === groupClick)?.id ?? "wood";
  return { click, volumeShare: 0.7, vibrate: false, throughPlayer: false };
}
