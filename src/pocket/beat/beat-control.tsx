// Volume, sound, touch, and one step quicker or slower within the cap.
import { CLICK_SOUNDS, type ClickId } from "../../engine/beat/clicks.ts";
import { Button } from "../../ui/controls/button.tsx";
import { useFrame, usePhone } from "../app/use-phone.tsx";
import { readAbilities } from "../app/abilities.ts";

export interface BeatControlProps {
  readonly onVolume: (share: number) => void;
  readonly onClick: (click: ClickId) => void;
}

export function BeatControl({ onVolume, onClick }: BeatControlProps) {
  const { phone } = useFrame();
  const { preferences } = usePhone();
  return (
    <details>
      <summary>Sound and touch</summary>
      <label className="slider">
        <span>Volume</span>
        <input
          type="range"
          min="0"
          max="1"
          step="0.05"
          value={preferences.volumeShare}
          onInput={(event) => {
            const volumeShare = Number(event.currentTarget.value);
            onVolume(volumeShare);
            void phone.prefer({ volumeShare });
          }}
        />
      </label>
      <fieldset className="picks">
        <legend>Sound</legend>
        {CLICK_SOUNDS.map((sound) => (
          <label key={sound.id} className="pick">
            <input
              type="radio"
              name="click"
              checked={preferences.click === sound.id}
              onChange={() => {
                onClick(sound.id);
                void phone.prefer({ click: sound.id });
              }}
            />
            <span>
              {sound.name} <span className="muted">{sound.description}</span>
            </span>
          </label>
        ))}
      </fieldset>
      {readAbilities().vibration ? (
        <label className="check">
          <input
            type="checkbox"
            checked={preferences.vibrate}
            onChange={(event) => void phone.prefer({ vibrate: event.currentTarget.checked })}
          />
          <span>Feel the beat (vibration)</span>
        </label>
      ) : null}
      <label className="check">
        <input
          type="checkbox"
          checked={preferences.throughPlayer}
          onChange={(event) => void phone.prefer({ throughPlayer: event.currentTarget.checked })}
        />
        <span>
          Play through the phone's player{" "}
          <span className="muted">
            from the next start on: may go on with the screen dark, a little late to the eye
          </span>
        </span>
      </label>
    </details>
  );
}

export interface NudgeProps {
  readonly rateWords: string;
  readonly canRaise: boolean;
  readonly onNudge: (deltaSpm: number) => void;
}

export function Nudge({ rateWords, canRaise, onNudge }: NudgeProps) {
  return (
    <div className="nudge">
      <Button big onClick={() => onNudge(-1)}>
        − 1<span className="visually-hidden"> step a minute, slower</span>
      </Button>
      <span aria-live="polite">{rateWords}</span>
      <Button big disabled={!canRaise} onClick={() => onNudge(1)}>
        + 1<span className="visually-hidden"> step a minute, quicker</span>
      </Button>
    </div>
  );
}
