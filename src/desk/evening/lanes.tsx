// Thirty targets, four or five beats: each lane with its people, its speaker's beat, and its file.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useEffect, useRef, useState } from "react";
import type { ClickId } from "../../engine/beat/clicks.ts";
import { type BeatPlayer, playBeat } from "../../ui/audio/sounds.ts";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField, TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api } from "../data/client.ts";
import { lanesQuery, settingsQuery } from "../data/queries.ts";
import { laneWords } from "../strings/evening.ts";
import { parseNumber } from "./entry-model.ts";
import { audioContext } from "./use-counting-clock.ts";

/** Close enough to run in one bunch; shown at an easy pace as the two paces it spans. */
const SPEED_BAND_MPS = 0.25;
const BAND_AT_MPS = 2.9;

export interface LanesPartProps {
  readonly groupId: string;
  readonly on: string;
  readonly format: Format;
}

export function LanesPart({ groupId, on, format }: LanesPartProps) {
  const settings = useQuery(settingsQuery(groupId)).data;
  const [tolerance, setTolerance] = useState("");
  const [speakers, setSpeakers] = useState("");
  const [minutes, setMinutes] = useState("20");
  const [presentOnly, setPresentOnly] = useState(false);
  const [together, setTogether] = useState(false);
  const tolerancePercent = parseNumber(tolerance);
  const speakerCount = parseNumber(speakers);
  const filter = {
    on,
    ...(tolerancePercent !== undefined && tolerancePercent >= 0.1 && tolerancePercent <= 10
      ? { tolerancePercent }
      : {}),
    ...(speakerCount !== undefined && speakerCount >= 1 && speakerCount <= 20
      ? { speakers: Math.round(speakerCount) }
      : {}),
    ...(presentOnly ? { presentOnly } : {}),
    // Fixed speakers ask for the smallest deviation, whoever runs together.
    ...(together && speakers.trim() === "" ? { speedBandMps: SPEED_BAND_MPS } : {}),
  };
  const lanes = useQuery({ ...lanesQuery(groupId, filter), placeholderData: (old) => old });
  const trackMinutes = Math.min(180, Math.max(1, parseNumber(minutes) ?? 20));
  const player = useLanePlayer((settings?.click ?? "wood") as ClickId);
  return (
    <section aria-label={laneWords.title}>
      <div className="row row-end lane-setup">
        <TextField
          label={
            <>
              {laneWords.tolerance} <HelpMark topic="lanes" />
            </>
          }
          inputMode="decimal"
          className="input-number"
          placeholder={settings ? format.number(settings.lanesTolerancePercent, 1) : ""}
          value={tolerance}
          onChange={(event) => setTolerance(event.target.value)}
        />
        <TextField
          label={laneWords.speakers}
          inputMode="numeric"
          className="input-number"
          value={speakers}
          placeholder="–"
          onChange={(event) => setSpeakers(event.target.value)}
        />
        <TextField
          label={laneWords.minutes}
          inputMode="numeric"
          className="input-number"
          value={minutes}
          onChange={(event) => setMinutes(event.target.value)}
        />
        <CheckField
          label={laneWords.together(format.speed(BAND_AT_MPS - SPEED_BAND_MPS), format.speed(BAND_AT_MPS))}
          disabled={speakers.trim() !== ""}
          checked={together}
          onChange={(event) => setTogether(event.target.checked)}
        />
        <CheckField
          label={laneWords.presentOnly}
          checked={presentOnly}
          onChange={(event) => setPresentOnly(event.target.checked)}
        />
      </div>
      <Loaded query={lanes}>
        {(data) =>
          data.lanes.length === 0 ? (
            <p className="empty">{laneWords.none}</p>
          ) : (
            <>
              <ol className="lanes">
                {data.lanes.map((lane, i) => {
                  const beat = format.beat(lane.beatSpm);
                  const playing = player.playing === lane.beatSpm;
                  return (
                    <li key={lane.beatSpm} className="lane">
                      <div className="lane-beat">
                        <span className="muted">{laneWords.lane(i + 1)}</span>
                        <strong className="lane-number">{format.beatValue(lane.beatSpm)}</strong>
                        <span className="muted">{format.rateUnit}</span>
                        {lane.speedMps && (
                          <span className="muted small lane-speed">
                            {laneWords.speeds(format.speedValue(lane.speedMps.low), format.speed(lane.speedMps.high))}
                          </span>
                        )}
                      </div>
                      <ul className="lane-members">
                        {lane.members.map((member) => (
                          <li
                            key={member.runnerId}
                            title={laneWords.deviation(format.signedPercent(member.deviationPercent / 100, 1))}
                          >
                            {member.name} <span className="muted">{format.beatValue(member.targetSpm)}</span>
                          </li>
                        ))}
                      </ul>
                      <div className="row lane-buttons">
                        <Button
                          kind={playing ? "plain" : "go"}
                          big
                          aria-pressed={playing}
                          aria-label={playing ? laneWords.stopLane(i + 1) : laneWords.playLane(i + 1, beat)}
                          onClick={() => player.toggle(lane.beatSpm)}
                        >
                          <span aria-hidden="true">{playing ? "■" : "▶"}</span>
                          {playing ? laneWords.stop : laneWords.play}
                        </Button>
                        <a
                          className="button"
                          download
                          href={api.address("GET /api/groups/:groupId/lanes/track", {
                            params: { groupId },
                            query: {
                              beatSpm: lane.beatSpm,
                              minutes: trackMinutes,
                              ...(settings ? { format: settings.beatTrackFormat } : {}),
                            },
                          })}
                        >
                          {laneWords.download}
                        </a>
                      </div>
                    </li>
                  );
                })}
              </ol>
              <div className="row">
                <span className="muted">{laneWords.worst(format.percent(data.worstDeviationPercent / 100, 1))}</span>
                <a
                  className="button"
                  download
                  href={api.address("GET /api/groups/:groupId/lanes/tracks.zip", {
                    params: { groupId },
                    query: {
                      ...filter,
                      minutes: trackMinutes,
                      ...(settings ? { format: settings.beatTrackFormat } : {}),
                    },
                  })}
                >
                  {laneWords.downloadAll}
                </a>
                <Link to="/g/$groupId/print" params={{ groupId }} search={{ on }}>
                  {laneWords.sheet}
                </Link>
                <Link to="/g/$groupId/hand-outs" params={{ groupId }}>
                  {laneWords.ownTracks}
                </Link>
              </div>
              {data.warnings.map((warning) => (
                <p key={warning} className="notice">
                  {warning}
                </p>
              ))}
              {data.without.length > 0 && (
                <details>
                  <summary>
                    {laneWords.without} ({data.without.length})
                  </summary>
                  <ul className="plain-list">
                    {data.without.map((one) => (
                      <li key={one.runnerId}>
                        {one.name}: <span className="muted">{one.because}</span>
                      </li>
                    ))}
                  </ul>
                </details>
              )}
            </>
          )
        }
      </Loaded>
    </section>
  );
}

/** One beat at a time: a second speaker is a second device. */
function useLanePlayer(click: ClickId): { readonly playing: number | undefined; toggle(stepRateSpm: number): void } {
  const [playing, setPlaying] = useState<number>();
  const player = useRef<BeatPlayer>(undefined);
  useEffect(() => () => player.current?.stop(), []);
  return {
    playing,
    toggle: (stepRateSpm) => {
      player.current?.stop();
      player.current = undefined;
      if (playing === stepRateSpm) {
        setPlaying(undefined);
        return;
      }
      player.current = playBeat(audioContext(), stepRateSpm, click);
      setPlaying(stepRateSpm);
    },
  };
}
