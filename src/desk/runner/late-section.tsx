// Does it hold in the last third? Before and after, on one axis.
import type { ComparisonAnswer } from "../../api/index.ts";
import { LATE_RUN_DROP_LIMIT } from "../../engine/evidence/change.ts";
import { Fitted } from "../../ui/pictures/fitted.tsx";
import { ForestAxis, forestDomain, ForestRow } from "../../ui/pictures/forest-row.tsx";
import { rateForFeet } from "../../engine/quantities/feet.ts";
import { type Format, tenthsIfAny } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { runnerWords } from "../strings/runner.ts";

const words = runnerWords.late;
/** Only for the width of the tinted band when nothing was run before. */
const TYPICAL_SPM = 160;

export function LateSection({
  format,
  comparison,
}: {
  readonly format: Format;
  readonly comparison: ComparisonAnswer | undefined;
}) {
  if (comparison?.kind !== "comparison") return null;
  const rows = [
    { name: words.before, drop: comparison.lateRunDropSpm.before },
    { name: words.after, drop: comparison.lateRunDropSpm.after },
  ].flatMap(({ name, drop }) =>
    drop ? [{ name, mark: { estimate: drop.estimate, low: drop.interval95.low, high: drop.interval95.high } }] : [],
  );
  // The usual limit is a share of the runner's own step rate.
  const limitSpm = Math.abs(LATE_RUN_DROP_LIMIT.value) * (comparison.before.runs[0]?.stepRateSpm ?? TYPICAL_SPM);
  const domain = forestDomain(rows.map((row) => row.mark));
  return (
    <section>
      <h2 className="section-head">
        {words.heading} <HelpMark topic="lateRunDrop" />
      </h2>
      {rows.length === 0 ? (
        <p className="muted">{words.none}</p>
      ) : (
        <table className="table late">
          <tbody>
            {rows.map((row) => (
              <tr key={row.name}>
                <th scope="row">{row.name}</th>
                <td className="late-cell">
                  <Fitted maxPx={420} fallbackPx={300}>
                    {(width) => (
                      <ForestRow
                        mark={row.mark}
                        domain={domain}
                        width={width}
                        smallestWorthwhile={limitSpm}
                        kind="runner"
                      />
                    )}
                  </Fitted>
                </td>
                <td>
                  {words.value(
                    format.rateChange(row.mark.estimate, 1),
                    format.rateChangeValue(row.mark.low, 1),
                    format.rateChangeValue(row.mark.high, 1),
                  )}
                </td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <td aria-hidden="true" />
              <td className="late-cell">
                <Fitted maxPx={420} fallbackPx={300}>
                  {(width) => (
                    <ForestAxis
                      domain={domain}
                      width={width}
                      text={(value) =>
                        format.rateChangeValue(value, tenthsIfAny(rateForFeet(value, format.reading.feet)))
                      }
                    />
                  )}
                </Fitted>
              </td>
              <td className="muted small">
                {words.band(format.rate(limitSpm, 1), format.percent(Math.abs(LATE_RUN_DROP_LIMIT.value)))}
              </td>
            </tr>
          </tfoot>
        </table>
      )}
    </section>
  );
}
