// What stands beside the finding: does it hold however often one looks, how days differ, what the change cost.
import type { BaselineAnswer, ComparisonAnswer } from "../../api/index.ts";
import type { Format } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { proofWords } from "../strings/proof.ts";
import { proofLines } from "./proof-lines.ts";

interface ProofSectionProps {
  readonly comparison: ComparisonAnswer | undefined;
  readonly baseline: BaselineAnswer | undefined;
  readonly format: Format;
}

export function ProofSection({ comparison, baseline, format }: ProofSectionProps) {
  if (comparison?.kind !== "comparison") return null;
  return (
    <section>
      <h2 className="section-head">
        {proofWords.heading} <HelpMark topic="matchedSpeed" />
      </h2>
      <dl className="facts proof">
        {proofLines(comparison, baseline, format).map(({ name, text }) => (
          <div key={name} className="facts-row">
            <dt>{name}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
