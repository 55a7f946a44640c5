// The programme model of a group of sixty runners, eight runs each: under five seconds, memory flat.
import { programmeEffect } from "../src/engine/change/programme-effect.ts";
import { simulateHistory } from "../src/engine/change/simulate-history.ts";
import { steadyMinutes } from "../src/engine/change/steady-minutes.ts";
import { createRandom } from "../src/engine/quantities/random.ts";
import { medianSeconds, timePeer } from "./peers/peer.ts";

const LIMIT_S = 5;
const random = createRandom(2);
const runners = Array.from({ length: 60 }, (_, index) => ({
  id: `runner-${index + 1}`,
  ...simulateHistory(
    {
      beforeRunCount: 4,
      afterRunCount: 4,
      minutesPerRun: 35,
      changePercent: 4 + 2 * random.normal(),
      speedChangePercent: 3 * random.normal(),
      exponent: 0.15 + 0.03 * random.normal(),
      dayToDaySdPercent: 1.3,
      windowRho: 0.9,
      residualSdPercent: 0.8,
      positionErrorM: 3,
      speedBiasSdPercent: 1,
    },
    random.below(2 ** 31),
  ),
}));

let said = "";
const seconds = medianSeconds(3, () => {
  const effect = programmeEffect(runners);
  said = "kind" in effect ? effect.need : `${effect.groupPercent.estimate.toFixed(2)} %`;
});
process.stdout.write(`programme of 60 runners: ${seconds.toFixed(3)} s (limit ${LIMIT_S} s), group change ${said}\n`);

const rows = runners.flatMap((runner, group) =>
  [runner.before, runner.after].flatMap((side, phase) =>
    side.map((run) => {
      const { minutes } = steadyMinutes(run.windows);
      const mean = (of: (minute: (typeof minutes)[number]) => number): number =>
        minutes.reduce((sum, minute) => sum + of(minute), 0) / minutes.length;
      return { y: mean((m) => m.lnStepRate), x: mean((m) => m.lnSpeed), phase, group };
    }),
  ),
);
const peer = timePeer("programme", {
  y: rows.map(({ y }) => y),
  x: rows.map(({ x }) => x),
  phase: rows.map(({ phase }) => phase),
  group: rows.map(({ group }) => group),
});
process.stdout.write(
  peer === undefined
    ? "peer: R with lme4 is not here\n"
    : `peer: lme4 takes ${peer.seconds.toFixed(3)} s for the fit alone (phase ${(100 * Math.expm1(peer.phaseEffect)).toFixed(2)} %); with reading the windows ours takes ${(seconds / peer.seconds).toFixed(2)} of that\n`,
);

const before = process.memoryUsage().heapUsed;
let most = before;
for (let k = 0; k < 10; k += 1) {
  programmeEffect(runners);
  most = Math.max(most, process.memoryUsage().heapUsed);
}
const grownMb = (most - before) / 1e6;
process.stdout.write(`memory over 10 programmes: at most ${grownMb.toFixed(0)} MB above the start (limit 200 MB)\n`);
if (seconds > LIMIT_S || grownMb > 200) process.exitCode = 1;
