// A runner's cards: one session, or everything ahead.
import { useQuery } from "@tanstack/react-query";
import { Link, useSearch } from "@tanstack/react-router";
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { CheckField } from "../../ui/controls/field.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { todayPlain } from "../data/client.ts";
import { practiceQuery } from "../data/coaching-queries.ts";
import { planQuery, runnerQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId, useRunnerId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { commonWords } from "../strings/common.ts";
import { cardWords as words } from "../strings/hand-outs.ts";
import { CardSheet } from "./card-sheet.tsx";
import "./cards.css";

const MOST_CARDS = 12;

export function RunnerCards() {
  const groupId = useGroupId();
  const runnerId = useRunnerId();
  const { on } = useSearch({ from: "/g/$groupId/runners/$runnerId/cards" });
  const format = useFormat(groupId);
  const [treadmill, setTreadmill] = useState(false);
  const runner = useQuery(runnerQuery(runnerId)).data;
  const plan = useQuery(planQuery(runnerId));
  const drills = useQuery(practiceQuery(groupId)).data?.drills ?? [];
  return (
    <Page>
      <div className="no-print print-bar">
        <h1>{words.runnerTitle(runner?.name ?? "")}</h1>
        <div className="row">
          <Button kind="go" onClick={() => print()}>
            {commonWords.print}
          </Button>
          <Link className="button" to="/g/$groupId/runners/$runnerId" params={{ groupId, runnerId }}>
            {words.back}
          </Link>
          <CheckField
            label={words.treadmill}
            checked={treadmill}
            onChange={(event) => setTreadmill(event.target.checked)}
          />
        </div>
      </div>
      <Loaded query={plan}>
        {(data) => {
          const all = data.kind === "plan" ? [...data.sessions, ...data.recallChecks] : [];
          const shown = all
            .filter((session) => (on === undefined ? session.on >= todayPlain() : session.on === on))
            .slice(0, MOST_CARDS);
          if (data.kind !== "plan" || shown.length === 0) return <p className="empty">{words.none}</p>;
          return shown.map((planned) => {
            const stage = data.stages.find((entry) => entry.index === planned.stageIndex);
            const beat = planned.session.blocks.some((block) => block.stepRateSpm !== undefined);
            return (
              <CardSheet
                key={planned.id}
                session={planned.session}
                runner={runner?.name ?? ""}
                on={planned.on}
                targetSpm={beat ? stage?.stepRateSpm : undefined}
                baselineSpm={data.baselineSpm}
                speedMps={data.speedMps}
                speedExponent={data.speedExponent}
                drills={drills}
                treadmill={treadmill}
                format={format}
              />
            );
          });
        }}
      </Loaded>
    </Page>
  );
}
