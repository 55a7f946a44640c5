// Everyone's tracks in one download that the browser keeps on disk itself; how far it is comes from the server.
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import type { Settings } from "../../api/index.ts";
import { CLICK_SOUNDS } from "../../engine/beat/clicks.ts";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField, SelectField, TextField } from "../../ui/controls/field.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api, makeId, todayPlain } from "../data/client.ts";
import { speechQuery, trackProgressQuery } from "../data/coaching-queries.ts";
import { settingsQuery } from "../data/queries.ts";
import { weekdayOf } from "../shell/programme-week.ts";
import { handOutWords } from "../strings/hand-outs.ts";
import { settingsWords } from "../strings/programme.ts";

const words = handOutWords.tracks;

/** The group's next evening, today included. */
export function nextEvening(today: string, weekday: number): string {
  const date = new Date(`${today}T00:00:00Z`);
  date.setUTCDate(date.getUTCDate() + ((weekday - weekdayOf(today) + 7) % 7));
  return date.toISOString().slice(0, 10);
}

export function TracksPart({ groupId, evening }: { readonly groupId: string; readonly evening: number }) {
  const settings = useQuery(settingsQuery(groupId));
  return (
    <section>
      <h2 className="section-head">{words.heading}</h2>
      <p className="muted">
        {words.lead} {words.hearing}
      </p>
      <Loaded query={settings}>
        {(data) => <Choices groupId={groupId} settings={data} first={nextEvening(todayPlain(), evening)} />}
      </Loaded>
    </section>
  );
}

interface ChoicesProps {
  readonly groupId: string;
  readonly settings: Settings;
  readonly first: string;
}

function Choices({ groupId, settings, first }: ChoicesProps) {
  const [on, setOn] = useState(first);
  const [days, setDays] = useState("1");
  const [format, setFormat] = useState(settings.beatTrackFormat);
  const [click, setClick] = useState(settings.click);
  const canSpeak = useQuery(speechQuery).data?.present === true;
  const [speech, setSpeech] = useState(false);
  const [progressId, setProgress] = useState<string>();
  const start = (): void => {
    const id = makeId();
    setProgress(id);
    const link = document.createElement("a");
    link.href = api.address("GET /api/groups/:groupId/tracks.zip", {
      params: { groupId },
      query: { on, days: Number(days), format, click, progressId: id, ...(speech ? { speech } : {}) },
    });
    link.download = "";
    link.click();
  };
  return (
    <>
      <div className="form-columns">
        <TextField
          label={words.from}
          type="date"
          required
          value={on}
          onChange={(event) => event.target.value !== "" && setOn(event.target.value)}
        />
        <SelectField label={words.days} value={days} onChange={(event) => setDays(event.target.value)}>
          {Object.entries(words.daysOptions).map(([value, text]) => (
            <option key={value} value={value}>
              {text}
            </option>
          ))}
        </SelectField>
        <SelectField
          label={words.format}
          value={format}
          onChange={(event) => setFormat(event.target.value as Settings["beatTrackFormat"])}
        >
          {Object.entries(settingsWords.formats).map(([value, text]) => (
            <option key={value} value={value}>
              {text}
            </option>
          ))}
        </SelectField>
        <SelectField label={words.click} value={click} onChange={(event) => setClick(event.target.value)}>
          {CLICK_SOUNDS.map((sound) => (
            <option key={sound.id} value={sound.id}>
              {sound.name}
            </option>
          ))}
        </SelectField>
      </div>
      <div className="row tracks-go">
        <Button kind="go" onClick={start}>
          {words.download}
        </Button>
        {canSpeak ? (
          <CheckField label={words.speech} checked={speech} onChange={(event) => setSpeech(event.target.checked)} />
        ) : (
          <span className="muted small">{words.noSpeech}</span>
        )}
      </div>
      {progressId !== undefined && <Progress groupId={groupId} progressId={progressId} />}
    </>
  );
}

function Progress({ groupId, progressId }: { readonly groupId: string; readonly progressId: string }) {
  const progress = useQuery(trackProgressQuery(groupId, progressId)).data;
  const done = progress?.known === true && progress.tracksDone === progress.trackCount;
  const text =
    progress?.known !== true
      ? words.starting
      : done
        ? words.done(progress.trackCount)
        : words.progress(progress.tracksDone, progress.trackCount);
  return (
    <output className="tracks-progress">
      <progress
        aria-label={words.heading}
        max={Math.max(1, progress?.trackCount ?? 1)}
        {...(progress?.known === true ? { value: progress.tracksDone } : {})}
      />
      <span>{text}</span>
    </output>
  );
}
