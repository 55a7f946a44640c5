// Makes the files of examples/ again: invented runs of an invented runner, the same every time.
import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { createRandom } from "../src/engine/quantities/random.ts";
import { inventTrack, writeTrackCsv } from "../src/engine/synthetic/tracks.ts";

const folder = path.resolve(import.meta.dirname, "../examples");
mkdirSync(folder, { recursive: true });

/** 25 minutes at an easy speed that wanders a little; the step rate follows speed by the usual weak power. */
function inventedRun(seed: number, stepRateSpm: number): string {
  const random = createRandom(seed);
  const day = 1 + 0.008 * random.normal();
  const legs = Array.from({ length: 50 }, () => {
    const speedMps = 2.8 * (1 + 0.03 * random.normal());
    return {
      durationS: 30,
      speedMps,
      stepRateSpm: stepRateSpm * day * (speedMps / 2.8) ** 0.15,
      turnRadPerS: 0.01 * random.normal(),
    };
  });
  const { recording } = inventTrack({
    seed,
    legs,
    sampleIntervalS: 5,
    noise: { whiteM: 0.4, wanderM: 1.2, stepRateSpm: 1.2 },
  });
  return writeTrackCsv(recording);
}

for (const number of [1, 2, 3, 4]) {
  writeFileSync(path.join(folder, `before-${number}.csv`), inventedRun(40 + number, 156));
  writeFileSync(path.join(folder, `after-${number}.csv`), inventedRun(60 + number, 163));
}

const group = [
  ["Odile", 158, 166],
  ["Bram", 159.5, 168],
  ["Suri", 164, 170],
  ["Pell", 165, 172],
  ["Ines", 166, 166.5],
  ["Tomas", 172, 178],
  ["Wren", 151, 158],
];
writeFileSync(
  path.join(folder, "lanes.csv"),
  ["name,target_spm,cap_spm", ...group.map((row) => row.join(",")), ""].join("\n"),
);

const session = {
  id: "example-session",
  title: "Second stage, first day (invented)",
  blocks: [
    { kind: "warm-up", durationS: 420, note: "Easy, as you like." },
    { kind: "standing-drill", durationS: 60, stepRateSpm: 160, note: "On the spot, one step for each beat." },
    { kind: "cue-on", durationS: 300, stepRateSpm: 160, speedMps: 2.8, note: "Same speed, shorter steps." },
    { kind: "cue-off", durationS: 120, speedMps: 2.8, note: "Keep it without the beat." },
    { kind: "cue-on", durationS: 300, stepRateSpm: 160, speedMps: 2.8 },
    { kind: "cool-down", durationS: 300 },
  ],
};
writeFileSync(path.join(folder, "session.json"), `${JSON.stringify(session, null, 2)}\n`);
