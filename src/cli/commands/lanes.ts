// spondee lanes: the fewest beats that serve a group.
import { type Lanes, makeLanes } from "../../engine/group/lanes.ts";
import { type Command, UsageError } from "../command.ts";
import { readLaneFile } from "../lane-file.ts";
import { readText } from "../text-file.ts";
import { rounded, signed } from "../text.ts";

export const lanesCommand: Command = {
  name: "lanes",
  summary: "the fewest beats such that every runner is close to their own target and none above their cap",
  usage: "FILE.csv [--tolerance-percent P | --speakers N] [--speed-band MPS]",
  options: {
    "tolerance-percent": { value: "P", help: "how far a lane's beat may be from a runner's target (default 1.5)" },
    speakers: { value: "N", help: "a fixed number of beats instead: the smallest worst deviation" },
    "speed-band": { value: "MPS", help: "members of a lane differ by at most this in speed" },
  },
  notes: "Columns: name, target_spm (both feet); cap_spm and speed_mps where known.",
  async run({ positionals, options, outside }) {
    const [file, ...more] = positionals;
    if (file === undefined || more.length > 0) throw new UsageError("name one CSV file");
    const tolerancePercent = options.numberIn("tolerance-percent", 0, 20, "percent");
    const speakerCount = options.numberIn("speakers", 1, 1000, "beats");
    const speedBandMps = options.numberIn("speed-band", 0, 5, "metres per second");
    if (speakerCount !== undefined && !Number.isInteger(speakerCount))
      throw new UsageError("--speakers takes a whole number");
    if (speakerCount !== undefined && (tolerancePercent !== undefined || speedBandMps !== undefined)) {
      throw new UsageError("--speakers finds its own tolerance: leave --tolerance-percent and --speed-band out");
    }
    const runners = readLaneFile(await readText(file, outside), file);
    const lanes = makeLanes(runners, {
      inTenths: true,
      ...(tolerancePercent === undefined ? {} : { toleranceShare: tolerancePercent / 100 }),
      ...(speakerCount === undefined ? {} : { speakerCount }),
      ...(speedBandMps === undefined ? {} : { speedBandMps }),
    });
    return { json: lanes, text: describeLanes(lanes) };
  },
};

function describeLanes(lanes: Lanes): string {
  return [
    ...lanes.lanes.map(
      (lane, index) =>
        `lane ${index + 1}: ${rounded(lane.beatSpm, 1)} spm  ${lane.members.map(({ id, deviationShare }) => `${id} (${signed(deviationShare * 100, 1)} %)`).join(", ")}`,
    ),
    ...lanes.unplaced.map(({ id, reason }) =>
      reason === "speed-unknown"
        ? `no lane: ${id}, speed unknown`
        : `no lane: ${id}, every beat near enough is above the cap`,
    ),
  ].join("\n");
}
