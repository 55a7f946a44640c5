// Everything behind the finding: what was sent, what it says run by run, what hurt, what was seen.
import type { BaselineAnswer, ComparisonAnswer, Plan } from "../../api/index.ts";
import { CountsSection } from "./counts-section.tsx";
import { FormSection } from "./form-section.tsx";
import { LateSection } from "./late-section.tsx";
import { PainSection } from "./pain-section.tsx";
import type { RunnerPart } from "./part.ts";
import { ProofSection } from "./proof-section.tsx";
import { RecordingsSection } from "./recordings-section.tsx";
import { SplitsSection } from "./splits-section.tsx";
import { TimelineSection } from "./timeline-section.tsx";
import { WhatIfSection } from "./what-if-section.tsx";

interface RunnerRestProps extends RunnerPart {
  readonly comparison: ComparisonAnswer | undefined;
  readonly baseline: BaselineAnswer | undefined;
  readonly plan: Plan | undefined;
}

export function RunnerRest({ comparison, baseline, plan, ...part }: RunnerRestProps) {
  const { runner, format } = part;
  return (
    <>
      <RecordingsSection {...part} />
      <SplitsSection {...part} />
      <LateSection format={format} comparison={comparison} />
      <ProofSection format={format} comparison={comparison} baseline={baseline} />
      <div className="two two-even">
        <PainSection {...part} />
        <FormSection {...part} />
      </div>
      <CountsSection {...part} />
      <WhatIfSection runner={runner} format={format} baseline={baseline} plan={plan} />
      <TimelineSection {...part} />
    </>
  );
}
