import { useQuery } from "@tanstack/react-query";
import type { Count } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { api } from "../data/client.ts";
import { countsQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { clockWords, entryWords } from "../strings/evening.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RunnerPart } from "./part.ts";

const words = runnerWords.counts;

/** "78 in 60 s, one foot": what was counted, as it was counted. */
export function countText(count: Count, format: Format): string {
  const feet = count.feet === "one" ? clockWords.oneFoot : clockWords.bothFeet;
  const seconds = `${format.number(count.seconds, Number.isInteger(count.seconds) ? 0 : 1)}\u00a0s`;
  return words.contacts(format.number(count.contacts), seconds, feet);
}

export function CountsSection({ groupId, runner, format }: RunnerPart) {
  const counts = useQuery(countsQuery(runner.id)).data?.items ?? [];
  const remove = useSave({
    save: (countId: string) =>
      api.call("DELETE /api/runners/:runnerId/counts/:countId", { params: { runnerId: runner.id, countId } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: () => words.removed,
  });
  return (
    <section>
      <h2 className="section-head">
        {words.heading} <HelpMark topic="countError" />
      </h2>
      {counts.length === 0 ? (
        <p className="muted">{words.empty}</p>
      ) : (
        <table className="table">
          <thead>
            <tr>
              <th scope="col">{words.column.when}</th>
              <th scope="col">{words.column.what}</th>
              <th scope="col" className="num">
                {words.column.rate}
              </th>
              <th scope="col" className="num wide-only">
                {words.column.speed}
              </th>
              <th scope="col" className="wide-only">
                {words.column.for}
              </th>
              <th scope="col" className="no-print">
                <span className="visually-hidden">{words.remove}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {counts.map((count) => (
              <tr key={count.id}>
                <th scope="row">{format.dateShort(count.measuredAt)}</th>
                <td>
                  {countText(count, format)}
                  {count.by === "runner" && <span className="muted small"> {words.byRunner}</span>}
                  {count.warnings.map((warning) => (
                    <span key={warning.code} className="muted small">
                      {" "}
                      {warning.message}
                    </span>
                  ))}
                </td>
                <td className="num">
                  {format.rateValue(count.stepRateSpm.estimate)}{" "}
                  <span className="muted">±{format.rateValue(count.stepRateSpm.standardError, 1)}</span>
                </td>
                <td className="num wide-only">{count.speedMps === null ? "" : format.speed(count.speedMps)}</td>
                <td className="wide-only">
                  {count.purpose === "baseline" ? entryWords.purposeBaseline : entryWords.purposeCheck}
                </td>
                <td className="no-print">
                  <Button
                    kind="quiet"
                    disabled={remove.isPending}
                    aria-label={`${words.remove}: ${countText(count, format)}`}
                    onClick={() => remove.mutate(count.id)}
                  >
                    {words.remove}
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
