// A slow-motion clip, looked at frame by frame on this machine only; what is kept are the marks.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useEffect, useState } from "react";
import { Button as AriaButton, FileTrigger } from "react-aria-components";
import type { Runner } from "../../api/index.ts";
import { kmhToMps } from "../../engine/quantities/units.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Choice } from "../../ui/controls/choice.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api, makeId, nowInstant } from "../data/client.ts";
import { runnerQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useSave } from "../data/use-save.ts";
import { parseNumber } from "../evening/entry-model.ts";
import { useGroupId, useRunnerId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { videoWords as words } from "../strings/recording.ts";
import { runnerWords } from "../strings/runner.ts";
import { legGeometry, type LegPoints, type Point } from "./leg-geometry.ts";
import { Earlier } from "./earlier.tsx";
import { contactsOf, type Mark, POINT_NAMES } from "./marks.ts";
import { Player } from "./player.tsx";
import { Results } from "./results.tsx";
import "./video.css";

export function VideoPage() {
  const runner = useQuery(runnerQuery(useRunnerId()));
  return (
    <Page wide>
      <Loaded query={runner}>{(data) => <VideoBody runner={data} />}</Loaded>
    </Page>
  );
}

function VideoBody({ runner }: { readonly runner: Runner }) {
  const groupId = useGroupId();
  const format = useFormat(groupId);
  const [address, setAddress] = useState<string>();
  const [marks, setMarks] = useState<readonly Mark[]>([]);
  const [points, setPoints] = useState<readonly Point[]>([]);
  const [setup, setSetup] = useState({ filmed: "240", file: "30", speed: "", shank: "42" });
  const [feet, setFeet] = useState<"both" | "one">("both");
  const [phase, setPhase] = useState<"before" | "during" | "after">("before");
  useEffect(
    () => () => {
      if (address !== undefined) URL.revokeObjectURL(address);
    },
    [address],
  );
  const set = (field: keyof typeof setup) => (event: { target: { value: string } }) =>
    setSetup((old) => ({ ...old, [field]: event.target.value }));
  const frameRateHz = parseNumber(setup.filmed);
  const fileRateHz = parseNumber(setup.file);
  const speedKmh = parseNumber(setup.speed);
  const shankCm = parseNumber(setup.shank);
  const [hip, knee, ankle, toe] = points;
  const leg =
    hip &&
    knee &&
    ankle &&
    toe &&
    shankCm !== undefined &&
    shankCm > 0 &&
    Math.hypot(ankle.x - knee.x, ankle.y - knee.y) > 0
      ? legGeometry({ hip, knee, ankle, toe } satisfies LegPoints, shankCm / 100)
      : undefined;
  const save = useSave({
    save: () =>
      api.call("PUT /api/runners/:runnerId/video-measures/:entryId", {
        params: { runnerId: runner.id, entryId: makeId() },
        body: {
          at: nowInstant(),
          phase,
          frameRateHz: frameRateHz ?? 0,
          contactFrames: contactsOf(marks).map((one) => one.landFrame),
          toeOffFrames: contactsOf(marks).map((one) => one.toeOffFrame),
          ...(speedKmh === undefined ? {} : { speedMps: kmhToMps(speedKmh) }),
          ...(leg ? { shankAngleRad: leg.shankAngleRad, footAheadOfHipM: leg.footAheadOfHipM } : {}),
        },
      }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.saved,
  });
  return (
    <>
      <p className="crumb">
        <Link to="/g/$groupId/runners/$runnerId" params={{ groupId, runnerId: runner.id }}>
          {runner.name}
        </Link>
      </p>
      <PageTitle text={words.title} />
      <p className="muted">{words.lead}</p>
      <div className="row row-end">
        <FileTrigger
          acceptedFileTypes={["video/*"]}
          onSelect={(files) => {
            const file = files?.[0];
            if (!file) return;
            setMarks([]);
            setPoints([]);
            setAddress(URL.createObjectURL(file));
          }}
        >
          <AriaButton className="button button-go">{words.choose}</AriaButton>
        </FileTrigger>
        <TextField
          label={words.frameRate}
          inputMode="decimal"
          className="input-number"
          value={setup.filmed}
          onChange={set("filmed")}
        />
        <TextField
          label={words.fileRate}
          inputMode="decimal"
          className="input-number"
          value={setup.file}
          onChange={set("file")}
        />
      </div>
      <p className="muted small below">{words.frameRateHint}</p>
      {address === undefined ? (
        <p className="empty">{words.noMarks}</p>
      ) : (
        <div className="two">
          <Player
            address={address}
            fileRateHz={fileRateHz ?? 30}
            marks={marks}
            onMarks={setMarks}
            points={points}
            onPoints={setPoints}
          />
          <div className="stack">
            <Results
              marks={marks}
              frameRateHz={frameRateHz}
              feet={feet}
              speedKmh={speedKmh}
              runner={runner}
              format={format}
            />
            <Choice
              label={words.feet}
              value={feet}
              onChange={setFeet}
              options={[
                { value: "both", text: words.feetBoth },
                { value: "one", text: words.feetOne },
              ]}
            />
            <TextField
              label={`${words.speed}, km/h`}
              hint={words.speedHint}
              inputMode="decimal"
              className="input-number"
              value={setup.speed}
              onChange={set("speed")}
            />
            <section>
              <h2 className="section-head">{words.points}</h2>
              <p className="muted">
                {words.pointsLead}{" "}
                {points.length < POINT_NAMES.length && words.nextPoint(words.pointNames[points.length] ?? "")}
              </p>
              <TextField
                label={words.scale}
                inputMode="decimal"
                className="input-number"
                value={setup.shank}
                onChange={set("shank")}
              />
              {leg && (
                <dl className="facts">
                  <div className="facts-row">
                    <dt>{words.shank}</dt>
                    <dd>{words.degrees(format.number((leg.shankAngleRad * 180) / Math.PI, 0))}</dd>
                  </div>
                  <div className="facts-row">
                    <dt>{words.ahead}</dt>
                    <dd>{format.lengthChange(leg.footAheadOfHipM)}</dd>
                  </div>
                </dl>
              )}
              {points.length > 0 && (
                <Button kind="quiet" onClick={() => setPoints([])}>
                  {words.clear}
                </Button>
              )}
            </section>
            <div className="row row-end">
              <Choice
                label={words.phase}
                value={phase}
                onChange={setPhase}
                options={(["before", "during", "after"] as const).map((value) => ({
                  value,
                  text: runnerWords.recordings.phases[value] ?? value,
                }))}
              />
              <Button
                kind="go"
                disabled={save.isPending || frameRateHz === undefined || contactsOf(marks).length === 0}
                onClick={() => save.mutate(undefined)}
              >
                {words.save}
              </Button>
            </div>
          </div>
        </div>
      )}
      <Earlier runner={runner} format={format} groupId={groupId} />
    </>
  );
}
