// A season of one runner, sixty runs of forty minutes, compared in one go: under one second, memory flat.
import { compareRuns } from "../src/engine/change/compare-runs.ts";
import { simulateHistory } from "../src/engine/change/simulate-history.ts";
import { steadyMinutes } from "../src/engine/change/steady-minutes.ts";
import { medianSeconds, timePeer } from "./peers/peer.ts";

const LIMIT_S = 1;
const season = simulateHistory(
  {
    beforeRunCount: 20,
    afterRunCount: 40,
    minutesPerRun: 40,
    changePercent: 4,
    speedChangePercent: 3,
    exponent: 0.16,
    dayToDaySdPercent: 1.2,
    windowRho: 0.9,
    residualSdPercent: 0.8,
    positionErrorM: 3,
    speedBiasSdPercent: 1,
  },
  1,
);

let said = "";
const seconds = medianSeconds(5, () => {
  const result = compareRuns(season.before, season.after);
  said = result.ok ? result.value.sentence : "refused";
});
process.stdout.write(`season of 60 runs: ${seconds.toFixed(3)} s (limit ${LIMIT_S} s). ${said}\n`);

const rows = [season.before, season.after].flatMap((side, phase) =>
  side.flatMap((run, index) =>
    steadyMinutes(run.windows).minutes.map((minute) => ({ minute, phase, group: index + 100 * phase })),
  ),
);
const peer = timePeer("season", {
  y: rows.map(({ minute }) => minute.lnStepRate),
  x: rows.map(({ minute }) => minute.lnSpeed),
  time: rows.map(({ minute }) => minute.timeS / 60),
  phase: rows.map(({ phase }) => phase),
  group: rows.map(({ group }) => group),
});
process.stdout.write(
  peer === undefined
    ? "peer: R with nlme is not here\n"
    : `peer: nlme takes ${peer.seconds.toFixed(3)} s for one fit of the same minutes; the whole comparison takes ${(seconds / peer.seconds).toFixed(2)} of that (below 1: quicker)\n`,
);

globalThis.gc?.();
const before = process.memoryUsage().heapUsed;
let most = before;
for (let k = 0; k < 20; k += 1) {
  compareRuns(season.before, season.after);
  most = Math.max(most, process.memoryUsage().heapUsed);
}
const grownMb = (most - before) / 1e6;
process.stdout.write(`memory over 20 seasons: at most ${grownMb.toFixed(0)} MB above the start (limit 150 MB)\n`);
if (seconds > LIMIT_S || grownMb > 150) process.exitCode = 1;
