// Calendars: a file, or an address that is shown once and can be taken back.
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import type { SettingsInput } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { SelectField, TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { api, makeId } from "../data/client.ts";
import { feedsQuery } from "../data/coaching-queries.ts";
import { useNotices } from "../data/notices.tsx";
import { rosterQuery, settingsQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { handOutWords } from "../strings/hand-outs.ts";
import { settingsWords } from "../strings/programme.ts";

const words = handOutWords.calendar;

interface PartProps {
  readonly groupId: string;
  readonly format: Format;
  readonly coach: boolean;
}

export function CalendarPart({ groupId, format, coach }: PartProps) {
  return (
    <section>
      <h2 className="section-head">{words.heading}</h2>
      <p className="muted">{words.lead}</p>
      <div className="row row-end">
        {coach && <EveningTime groupId={groupId} />}
        <a
          className="button"
          download
          href={api.address("GET /api/groups/:groupId/plans.ics", { params: { groupId } })}
        >
          {words.file}
        </a>
      </div>
      {coach && <Feeds groupId={groupId} format={format} />}
    </section>
  );
}

function EveningTime({ groupId }: { readonly groupId: string }) {
  const settings = useQuery(settingsQuery(groupId)).data;
  const save = useSave({
    save: (body: SettingsInput) => api.call("PUT /api/groups/:groupId/settings", { params: { groupId }, body }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => settingsWords.saved,
  });
  if (!settings) return null;
  return (
    <TextField
      key={settings.eveningTime}
      label={words.eveningTime}
      hint={words.eveningHint}
      type="time"
      defaultValue={settings.eveningTime}
      onBlur={(event) => {
        if (event.target.value !== settings.eveningTime) save.mutate({ eveningTime: event.target.value });
      }}
    />
  );
}

function Feeds({ groupId, format }: { readonly groupId: string; readonly format: Format }) {
  const feeds = useQuery(feedsQuery(groupId)).data?.items ?? [];
  const runners = useQuery(rosterQuery(groupId)).data?.items ?? [];
  const notices = useNotices();
  const [who, setWho] = useState("");
  const [fresh, setFresh] = useState<string>();
  const make = useSave({
    save: () =>
      api.call("PUT /api/groups/:groupId/feeds/:feedId", {
        params: { groupId, feedId: makeId() },
        body: { runnerId: who === "" ? null : who },
      }),
    done: (made) => setFresh(new URL(made.address, location.origin).href),
  });
  const revoke = useSave({
    save: (feedId: string) => api.call("DELETE /api/groups/:groupId/feeds/:feedId", { params: { groupId, feedId } }),
    said: () => words.revokedSaid,
    done: () => setFresh(undefined),
  });
  const nameOf = (runnerId: string | null): string =>
    runnerId === null ? words.whole : (runners.find((row) => row.runner.id === runnerId)?.runner.name ?? "");
  return (
    <>
      <div className="row row-end feed-make">
        <SelectField label={words.who} value={who} onChange={(event) => setWho(event.target.value)}>
          <option value="">{words.whole}</option>
          {runners.map(({ runner }) => (
            <option key={runner.id} value={runner.id}>
              {runner.name}
            </option>
          ))}
        </SelectField>
        <Button disabled={make.isPending} onClick={() => make.mutate(undefined)}>
          {words.make}
        </Button>
      </div>
      {fresh !== undefined && (
        <div className="stack feed-fresh">
          <p>
            <strong>{words.shownOnce}</strong> <span className="muted small">{words.reach}</span>
          </p>
          <div className="row">
            <input
              className="input"
              readOnly
              value={fresh}
              aria-label={words.heading}
              onFocus={(event) => event.target.select()}
            />
            <Button
              onClick={() => {
                navigator.clipboard
                  .writeText(fresh)
                  .then(() => notices.say(words.copied))
                  .catch(() => notices.warn(handOutWords.messages.noClipboard));
              }}
            >
              {words.copy}
            </Button>
          </div>
        </div>
      )}
      {feeds.length > 0 && (
        <>
          <h3>{words.list}</h3>
          <ul className="plain-list">
            {feeds.map((feed) => (
              <li key={feed.id} className="mail-line">
                <span>
                  {nameOf(feed.runnerId)}{" "}
                  <span className="muted small">
                    {words.made(format.dateShort(feed.createdAt))},{" "}
                    {feed.live
                      ? feed.lastUsedAt === null
                        ? words.never
                        : words.used(format.dateTime(feed.lastUsedAt))
                      : words.revoked}
                  </span>
                </span>
                {feed.live && (
                  <Button
                    kind="quiet"
                    aria-label={words.revokeOf(nameOf(feed.runnerId))}
                    disabled={revoke.isPending}
                    onClick={() => revoke.mutate(feed.id)}
                  >
                    {words.revoke}
                  </Button>
                )}
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}
