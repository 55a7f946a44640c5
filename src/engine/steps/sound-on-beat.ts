// Are contacts really the metronome's own beats? Then they sit on its grid more exactly than feet can.
import { machineContactSpreadS } from "../evidence/sound.ts";
import { type BeatPart } from "./sound-beats.ts";

const LEAST_CONTACTS = 8;
/** Contacts may come with each beat, or two or three to a beat. */
const CONTACTS_PER_BEAT = [1, 2, 3];
/** Normal spread of a median absolute deviation. */
const SPREAD_PER_DEVIATION = 1.4826;

/** Contacts `fromS` to `toS` of the chain against the grid of the part that covers most of them. */
export function sitsOnBeat(timesS: readonly number[], parts: readonly BeatPart[]): boolean {
  return parts.some(({ startS, endS, grid }) => {
    const inside = timesS.filter((timeS) => timeS >= startS && timeS < endS);
    return (
      inside.length >= LEAST_CONTACTS &&
      CONTACTS_PER_BEAT.some(
        (count) => spreadAround(inside, grid.beatS, grid.intervalS / count) < machineContactSpreadS.value,
      )
    );
  });
}

/** Robust spread of the times' distance from a grid, around their circular mean. */
function spreadAround(timesS: readonly number[], beatS: number, intervalS: number): number {
  let x = 0;
  let y = 0;
  for (const timeS of timesS) {
    const angle = (2 * Math.PI * (timeS - beatS)) / intervalS;
    x += Math.cos(angle);
    y += Math.sin(angle);
  }
  const centre = Math.atan2(y, x) / (2 * Math.PI);
  const distances = timesS.map((timeS) => {
    const turns = (timeS - beatS) / intervalS - centre;
    return Math.abs(turns - Math.round(turns)) * intervalS;
  });
  distances.sort((a, b) => a - b);
  return SPREAD_PER_DEVIATION * distances[distances.length >> 1]!;
}
