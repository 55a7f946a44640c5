// One runner: the finding in a sentence, the picture, where they stand, and everything behind it.
import { useQuery } from "@tanstack/react-query";
import { lazy, Suspense } from "react";
import type { Runner } from "../../api/index.ts";
import { Loaded } from "../controls/loaded.tsx";
import { HelpMark } from "../controls/help-mark.tsx";
import { Caution } from "../controls/caution.tsx";
import { baselineQuery, comparisonQuery, planQuery, proposalQuery, runnerQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useGroupId, useRunnerId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { commonWords } from "../strings/common.ts";
import { runnerFormWords } from "../strings/groups.ts";
import { runnerWords } from "../strings/runner.ts";
import { Facts } from "./facts.tsx";
import { FieldPicture } from "./field-picture.tsx";
import { fieldData } from "./field-data.ts";
import { PlanSection } from "./plan-section.tsx";
import { ProposalSection } from "./proposal-section.tsx";
import { RunnerActions } from "./runner-actions.tsx";
import { sayLine } from "./say.ts";
import "../../ui/pictures/pictures.css";
import "./runner.css";

/** Everything below the first look is fetched after it. */
const RunnerRest = lazy(() => import("./runner-rest.tsx").then((part) => ({ default: part.RunnerRest })));

export function RunnerPage() {
  const runner = useQuery(runnerQuery(useRunnerId()));
  return (
    <Page wide>
      <Loaded query={runner}>{(data) => <RunnerBody runner={data} />}</Loaded>
    </Page>
  );
}

function RunnerBody({ runner }: { readonly runner: Runner }) {
  const groupId = useGroupId();
  const format = useFormat(groupId);
  const comparison = useQuery(comparisonQuery(runner.id)).data;
  const baseline = useQuery(baselineQuery(runner.id)).data;
  const proposal = useQuery(proposalQuery(runner.id)).data;
  const planAnswer = useQuery(planQuery(runner.id)).data;
  const plan = planAnswer?.kind === "plan" ? planAnswer : undefined;
  const said = sayLine(comparison, baseline, format);
  const part = { groupId, runner, format };
  const loading = comparison === undefined || baseline === undefined;
  return (
    <>
      <div className="title-row">
        <div>
          <PageTitle text={runner.name} />
          {about(runner).length > 0 && <p className="muted">{about(runner).join(", ")}</p>}
          {runner.notes !== "" && <p className="runner-notes">{runner.notes}</p>}
        </div>
        <RunnerActions groupId={groupId} runner={runner} />
      </div>
      <p className="say" aria-busy={loading}>
        {!loading && (
          <>
            {said.strong !== "" && <strong>{said.strong}. </strong>}
            {said.rest} <HelpMark topic="matchedSpeed" />
          </>
        )}
      </p>
      <div className="two">
        <FieldPicture
          data={fieldData(comparison, baseline, proposal, plan)}
          format={format}
          borrowed={comparison?.kind === "comparison" ? comparison.borrowed : []}
          warnings={comparison?.kind === "comparison" ? comparison.warnings.map((one) => one.message) : []}
        />
        <div>
          <Facts format={format} baseline={baseline} proposal={proposal} plan={plan} comparison={comparison} />
          <ProposalSection {...part} answer={proposal} />
        </div>
      </div>
      <PlanSection {...part} answer={planAnswer} proposal={proposal} />
      <Suspense fallback={<p className="muted">{commonWords.loading}</p>}>
        <RunnerRest {...part} comparison={comparison} baseline={baseline} plan={plan} />
      </Suspense>
      <Caution />
    </>
  );
}

/** What a coach should have in mind with this runner. */
function about(runner: Runner): readonly string[] {
  const trouble = runner.history.filter((one) => one !== "none").map((one) => runnerFormWords.historyOptions[one]);
  return [
    runner.remote ? runnerWords.remote : "",
    trouble.length > 0 ? runnerWords.trouble(trouble.join(", ")) : "",
    runner.archived ? runnerWords.archived : "",
  ].filter(Boolean);
}
