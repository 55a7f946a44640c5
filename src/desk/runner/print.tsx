// A page for the runner to keep, in plain words.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { stepLengthM } from "../../engine/quantities/units.ts";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { BeforeAfterField } from "../../ui/pictures/before-after-field.tsx";
import { Staircase } from "../../ui/pictures/staircase.tsx";
import { Caution } from "../controls/caution.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { todayPlain } from "../data/client.ts";
import { baselineQuery, comparisonQuery, groupQuery, planQuery, proposalQuery, runnerQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId, useRunnerId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { commonWords } from "../strings/common.ts";
import { runnerWords } from "../strings/runner.ts";
import { fieldData } from "./field-data.ts";
import { describeField } from "./field-picture.tsx";
import { sayLine } from "./say.ts";
import { stairsOf } from "./stairs.ts";
import { whatNow } from "./what-now.ts";
import "../../ui/pictures/pictures.css";
import "./runner.css";

const words = runnerWords.print;
/** Fits A4 and Letter between their margins. */
const PAPER_PX = 620;

export function RunnerPrint() {
  const groupId = useGroupId();
  const runnerId = useRunnerId();
  const desk = useFormat(groupId);
  // The runner reads words, not the coach’s short unit.
  const format = { ...desk, ...plainRates(desk) };
  const group = useQuery(groupQuery(groupId)).data;
  const runner = useQuery(runnerQuery(runnerId));
  const comparison = useQuery(comparisonQuery(runnerId)).data;
  const baseline = useQuery(baselineQuery(runnerId)).data;
  const proposal = useQuery(proposalQuery(runnerId)).data;
  const planAnswer = useQuery(planQuery(runnerId)).data;
  const plan = planAnswer?.kind === "plan" ? planAnswer : undefined;
  const said = sayLine(comparison, baseline, format);
  const data = fieldData(comparison, baseline, proposal, plan);
  const stage = plan?.stages[plan.currentStageIndex];
  const speedMps = baseline?.kind === "baseline" ? baseline.speedMps : null;
  const next = whatNow(plan, proposal);
  return (
    <Page>
      <div className="row no-print print-bar">
        <Button kind="go" onClick={() => print()}>
          {commonWords.print}
        </Button>
        <Link className="button" to="/g/$groupId/runners/$runnerId" params={{ groupId, runnerId }}>
          {words.back}
        </Link>
      </div>
      <Loaded query={runner}>
        {(one) => (
          <article className="sheet">
            <PageTitle text={words.title(one.name)} />
            <p className="muted">{words.from(group?.name ?? "", format.date(todayPlain()))}</p>
            <p className="say">
              {said.strong !== "" && <strong>{said.strong}. </strong>}
              {said.rest}
            </p>
            <h2 className="section-head">{words.what}</h2>
            <p>{words.whatText}</p>
            {(data.before ?? data.after) && (
              <BeforeAfterField
                data={data}
                width={PAPER_PX}
                format={format}
                words={{
                  ...runnerWords.field,
                  stepRate:
                    format.reading.feet === "one" ? runnerWords.field.stepRateAxisOne : runnerWords.field.stepRateAxis,
                  speed: runnerWords.field.pace,
                }}
                description={describeField(data, format)}
              />
            )}
            {plan && next.kind === "run" && (
              <>
                <h2 className="section-head">{words.steps}</h2>
                <Staircase
                  width={PAPER_PX}
                  stairs={stairsOf(plan, format)}
                  rateText={(rate) => format.beatValue(rate)}
                  title={runnerWords.plan.stairTitle}
                  description={runnerWords.plan.stairIs(
                    plan.stages.length,
                    plan.currentStageIndex,
                    stage ? format.beat(stage.stepRateSpm) : "",
                  )}
                  hereWord={runnerWords.plan.here}
                />
              </>
            )}
            <h2 className="section-head">{words.next}</h2>
            <p>
              {next.kind === "run"
                ? words.nextText(
                    format.beat(next.stepRateSpm),
                    speedMps === null ? undefined : format.length(stepLengthM(speedMps, next.stepRateSpm)),
                  )
                : words.nextOther[next.kind]}
            </p>
            <Caution />
          </article>
        )}
      </Loaded>
    </Page>
  );
}

function plainRates(format: Format): Pick<Format, "rate" | "rateChange" | "beat"> {
  const unit = format.reading.feet === "one" ? words.unitOne : words.unit;
  return {
    rate: (spm, digits) => `${format.rateValue(spm, digits)} ${unit}`,
    beat: (spm) => `${format.beatValue(spm)} ${unit}`,
    rateChange: (spm, digits) => `${format.rateChangeValue(spm, digits)} ${unit}`,
  };
}
