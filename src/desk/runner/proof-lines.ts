// What stands beside the finding, line by line: looks, days, cost, weeks. No screen in here.
import type { BaselineAnswer, Comparison } from "../../api/index.ts";
import type { Format } from "../../ui/words/format.ts";
import { proofWords as words } from "../strings/proof.ts";

export interface ProofLine {
  readonly name: string;
  readonly text: string;
}

type Details = Comparison["details"];
type Known = NonNullable<Details["cost"]["effort"]["overall"]>;

export function proofLines(comparison: Comparison, baseline: BaselineAnswer | undefined, format: Format): ProofLine[] {
  const { everyLook, cost, weeks } = comparison.details;
  const lines: ProofLine[] = [];
  if (Math.min(comparison.before.runCount, comparison.after.runCount) >= 2)
    lines.push({
      name: words.everyLook,
      text: words.verdict[everyLook.verdict](format.percent(everyLook.wantedChangePercent / 100)),
    });
  const spm = baseline?.kind === "baseline" ? baseline.stepRateSpm.estimate : comparison.before.runs[0]?.stepRateSpm;
  lines.push({ name: words.dayToDay, text: dayToDay(comparison.details, spm, format) });
  const { trendSpmPerWeek } = weeks ?? { trendSpmPerWeek: null };
  if (trendSpmPerWeek)
    lines.push({
      name: words.trend,
      text: words.trendIs(
        format.rateChange(trendSpmPerWeek.estimate, 1),
        format.rateChangeValue(trendSpmPerWeek.interval95.low, 1),
        format.rateChangeValue(trendSpmPerWeek.interval95.high, 1),
      ),
    });
  const signed = (value: number): string => `${value > 0 ? "+" : ""}${format.number(value, 1)}`;
  const interval = ({ interval95 }: Known): [string, string] => [signed(interval95.low), signed(interval95.high)];
  lines.push({
    name: words.heartRate,
    text: costText(cost.heartRateBpm, words.costNone.heartRate, (one) =>
      words.cost(words.beats(signed(one.estimate)), ...interval(one)),
    ),
  });
  lines.push({
    name: words.effort,
    text: costText(cost.effort, words.costNone.effort, (one) =>
      words.effortChange(signed(one.estimate), ...interval(one)),
    ),
  });
  return lines;
}

/** How much one day differs from the next, in the runner's own steps, and what the runs before can show at all. */
function dayToDay({ dayToDaySdPercent, weeks }: Details, spm: number | undefined, format: Format): string {
  const { estimate, low95, high95 } = dayToDaySdPercent;
  const percent = (value: number): string => format.percent(value / 100, 1);
  const rate = spm === undefined ? "" : format.rate((estimate / 100) * spm, 1);
  const said = words.dayToDayIs(percent(estimate), rate, percent(low95), percent(high95));
  const repeats = weeks?.repeats;
  if (!repeats) return said;
  const { runCount, typicalErrorSpm, detectableSpm } = repeats;
  return `${said} ${words.repeats(runCount, format.rate(typicalErrorSpm, 1), format.rate(detectableSpm, 1))}`;
}

/** At first and later where both are known: what matters is whether it fades. */
function costText(cost: Details["cost"]["effort"], none: string, say: (known: Known) => string): string {
  const { overall, early, later } = cost;
  if (early && later) {
    const fades = early.interval95.low > 0 && later.estimate < early.estimate / 2 ? ` ${words.fades}` : "";
    return `${words.early(say(early))} ${words.later(say(later))}${fades}`;
  }
  return overall ? words.overall(say(overall)) : none;
}
