// A group's settings: how numbers are shown, the beat, the rules with their sources, the programme, who may see it.
import { useQuery } from "@tanstack/react-query";
import { useNavigate } from "@tanstack/react-router";
import { useState } from "react";
import type { Group, GroupInput, Settings, SettingsInput } from "../../api/index.ts";
import { CLICK_SOUNDS, type ClickId } from "../../engine/beat/clicks.ts";
import { playBeat } from "../../ui/audio/sounds.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Choice } from "../../ui/controls/choice.tsx";
import { SelectField, TextField } from "../../ui/controls/field.tsx";
import { Confirm } from "../controls/confirm.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api } from "../data/client.ts";
import { groupQuery, settingsQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { audioContext } from "../evening/use-counting-clock.ts";
import { GroupForm } from "../groups/group-form.tsx";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { settingsWords as words } from "../strings/programme.ts";
import { MovePlans } from "../plan/move-plans.tsx";
import { Members } from "./members.tsx";
import "./settings.css";
import { Thresholds } from "./thresholds.tsx";

export function SettingsPage() {
  const groupId = useGroupId();
  const settings = useQuery(settingsQuery(groupId));
  const group = useQuery(groupQuery(groupId));
  const save = useSave({
    save: (body: SettingsInput) => api.call("PUT /api/groups/:groupId/settings", { params: { groupId }, body }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.saved,
  });
  return (
    <Page>
      <PageTitle text={words.title} />
      <Loaded query={settings}>
        {(data) => (
          <>
            <Reading settings={data} onChange={save.mutate} />
            <Beat settings={data} onChange={save.mutate} />
            <Thresholds
              key={JSON.stringify(data.thresholds)}
              settings={data}
              busy={save.isPending}
              onChange={save.mutate}
            />
          </>
        )}
      </Loaded>
      <Loaded query={group}>
        {(data) => (
          <>
            <Programme group={data} />
            <Members groupId={groupId} canChange={data.role === "coach"} />
            {data.role === "coach" && <Ending group={data} />}
          </>
        )}
      </Loaded>
    </Page>
  );
}

interface PartProps {
  readonly settings: Settings;
  readonly onChange: (change: SettingsInput) => void;
}

function Reading({ settings, onChange }: PartProps) {
  const [locale, setLocale] = useState(settings.locale);
  return (
    <section>
      <h2 className="section-head">{words.reading}</h2>
      <div className="settings-grid">
        <Choice
          label={words.feet}
          value={settings.feetShown}
          onChange={(feetShown) => onChange({ feetShown })}
          options={[
            { value: "both", text: words.both },
            { value: "one", text: words.one },
          ]}
        />
        <Choice
          label={words.distance}
          value={settings.distanceUnit}
          onChange={(distanceUnit) => onChange({ distanceUnit })}
          options={[
            { value: "km", text: words.km },
            { value: "mile", text: words.mile },
          ]}
        />
        <Choice
          label={words.height}
          value={settings.heightUnit}
          onChange={(heightUnit) => onChange({ heightUnit })}
          options={[
            { value: "cm", text: words.cm },
            { value: "ft-in", text: words.ftIn },
          ]}
        />
        <TextField
          label={words.locale}
          hint={words.localeHint}
          value={locale}
          placeholder={navigator.language}
          onChange={(event) => setLocale(event.target.value)}
          onBlur={() => {
            if (locale !== settings.locale && isLocale(locale)) onChange({ locale });
          }}
        />
      </div>
    </section>
  );
}

function isLocale(text: string): boolean {
  if (text === "") return true;
  try {
    return Intl.DateTimeFormat.supportedLocalesOf(text).length > 0;
  } catch {
    return false;
  }
}

const HEARD_SPM = 165;
const HEARD_MS = 3000;

function Beat({ settings, onChange }: PartProps) {
  const [tolerance, setTolerance] = useState(String(settings.lanesTolerancePercent));
  return (
    <section>
      <h2 className="section-head">{words.beat}</h2>
      <div className="settings-grid">
        <div className="row row-end">
          <SelectField
            label={words.click}
            value={settings.click}
            onChange={(event) => onChange({ click: event.target.value })}
          >
            {CLICK_SOUNDS.map((sound) => (
              <option key={sound.id} value={sound.id}>
                {sound.name}: {sound.description.toLowerCase()}
              </option>
            ))}
          </SelectField>
          <Button
            onClick={() => {
              const player = playBeat(audioContext(), HEARD_SPM, settings.click as ClickId);
              setTimeout(() => player.stop(), HEARD_MS);
            }}
          >
            {words.clickPlay}
          </Button>
        </div>
        <SelectField
          label={words.format}
          value={settings.beatTrackFormat}
          onChange={(event) => onChange({ beatTrackFormat: event.target.value as Settings["beatTrackFormat"] })}
        >
          {Object.entries(words.formats).map(([value, text]) => (
            <option key={value} value={value}>
              {text}
            </option>
          ))}
        </SelectField>
        <TextField
          label={words.tolerance}
          inputMode="decimal"
          className="input-number"
          value={tolerance}
          onChange={(event) => setTolerance(event.target.value)}
          onBlur={() => {
            const value = Number(tolerance.replace(",", "."));
            if (value >= 0.1 && value <= 10 && value !== settings.lanesTolerancePercent)
              onChange({ lanesTolerancePercent: value });
          }}
        />
      </div>
    </section>
  );
}

function Programme({ group }: { readonly group: Group }) {
  const save = useSave({
    quietErrors: true,
    save: (body: GroupInput) => api.call("PUT /api/groups/:groupId", { params: { groupId: group.id }, body }),
    groupId: group.id,
    changeId: (answer) => answer.changeId,
    said: () => words.saved,
  });
  return (
    <section>
      <h2 className="section-head">{words.programme}</h2>
      <GroupForm group={group} busy={save.isPending} error={save.error} action={words.save} onSave={save.mutate} />
      {group.role === "coach" && <MovePlans groupId={group.id} />}
    </section>
  );
}

function Ending({ group }: { readonly group: Group }) {
  const [asking, setAsking] = useState(false);
  const navigate = useNavigate();
  const archive = useSave({
    save: () =>
      api.call("PUT /api/groups/:groupId", {
        params: { groupId: group.id },
        body: {
          name: group.name,
          startsOn: group.startsOn,
          weeks: group.weeks,
          eveningWeekday: group.eveningWeekday,
          timeZone: group.timeZone,
          holidays: group.holidays,
          ...(group.raceDate === null ? {} : { raceDate: group.raceDate }),
          note: group.note,
          archived: !group.archived,
        },
      }),
    groupId: group.id,
    changeId: (answer) => answer.changeId,
    said: (answer) => (answer.item.archived ? words.archived : words.unarchived),
  });
  const remove = useSave({
    save: () => api.call("DELETE /api/groups/:groupId", { params: { groupId: group.id } }),
    said: () => words.deleted,
    done: () => void navigate({ to: "/" }),
  });
  return (
    <section>
      <h2 className="section-head">{words.danger}</h2>
      <div className="row">
        <a
          className="button"
          download
          href={api.address("GET /api/groups/:groupId/export.zip", { params: { groupId: group.id } })}
        >
          {words.export}
        </a>
        <Button disabled={archive.isPending} onClick={() => archive.mutate(undefined)}>
          {group.archived ? words.unarchive : words.archive}
        </Button>
        <Button onClick={() => setAsking(true)}>{words.deleteGroup}</Button>
      </div>
      <Confirm
        title={words.deleteTitle}
        open={asking}
        onClose={() => setAsking(false)}
        onConfirm={() => remove.mutate(undefined)}
        action={words.deleteGroup}
        typed={{ label: words.deleteType(group.name), text: group.name }}
      >
        <p>{words.deleteLead}</p>
      </Confirm>
    </section>
  );
}
