// Each run against the line from before: what of its speed was step rate, what step length.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { SPEED_EXPONENT } from "../../engine/evidence/change.ts";
import { Fitted } from "../../ui/pictures/fitted.tsx";
import { SplitBar, splitDomain } from "../../ui/pictures/split-bar.tsx";
import { HelpMark } from "../controls/help-mark.tsx";
import { runsQuery } from "../data/queries.ts";
import { runnerWords } from "../strings/runner.ts";
import type { RunnerPart } from "./part.ts";
import { splitWord } from "./split-word.ts";

const words = runnerWords.splits;

export function SplitsSection({ groupId, runner, format }: RunnerPart) {
  const runs = useQuery(runsQuery(runner.id)).data;
  const items = (runs?.items ?? [])
    .flatMap((run) => (run.split === null ? [] : [{ ...run, split: run.split }]))
    .reverse();
  const domain = splitDomain(items.map((one) => one.split));
  return (
    <section>
      <h2 className="section-head">
        {words.heading} <HelpMark topic="split" />
      </h2>
      {items.length === 0 ? (
        <p className="muted">{words.empty}</p>
      ) : (
        <>
          <p className="muted">{words.lead}</p>
          <table className="table splits">
            <thead>
              <tr>
                <th scope="col">{words.column.run}</th>
                <th scope="col" className="split-cell">
                  {words.column.split}
                </th>
                <th scope="col" className="num">
                  {words.column.rate}
                </th>
                <th scope="col" className="num">
                  {words.column.length}
                </th>
                <th scope="col" className="num">
                  {words.column.speed}
                </th>
                <th scope="col">{words.column.word}</th>
                <th scope="col" className="num wide-only">
                  {words.column.inBand} <HelpMark topic="inBand" />
                </th>
              </tr>
            </thead>
            <tbody>
              {items.map((run) => {
                const speed = format.signedPercent(run.split.lnSpeed, 1);
                const rate = format.signedPercent(run.split.lnStepRate, 1);
                const length = format.signedPercent(run.split.lnStepLength, 1);
                return (
                  <tr key={run.recordingId}>
                    <th scope="row">
                      <Link
                        to="/g/$groupId/runners/$runnerId/recordings/$recordingId"
                        params={{ groupId, runnerId: runner.id, recordingId: run.recordingId }}
                      >
                        {run.startedAt === null ? words.column.run : format.dateShort(run.startedAt)}
                      </Link>
                    </th>
                    <td className="split-cell">
                      <Fitted maxPx={420} fallbackPx={300}>
                        {(width) => (
                          <SplitBar
                            split={run.split}
                            width={width}
                            domain={domain}
                            description={words.describe(speed, rate, length)}
                          />
                        )}
                      </Fitted>
                    </td>
                    <td className="num" data-label={words.column.rate}>
                      {rate}
                    </td>
                    <td className="num" data-label={words.column.length}>
                      {length}
                    </td>
                    <td className="num" data-label={words.column.speed}>
                      {speed}
                    </td>
                    <td className="split-word" data-label={words.column.word}>
                      {splitWord(run.split, SPEED_EXPONENT.value.mean)}
                    </td>
                    <td className="num wide-only" data-label={words.column.inBand}>
                      {run.inBandShare === null ? "" : format.percent(run.inBandShare)}
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </>
      )}
    </section>
  );
}
