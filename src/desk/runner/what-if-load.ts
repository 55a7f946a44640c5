// Load at another step rate, from this runner's own measured contact and flight times; nothing where they were not measured.
import type { Runner, VideoMeasure } from "../../api/index.ts";
import { LEG_LENGTH_SHARE } from "../../engine/evidence/load.ts";
import type { LoadTradeRow } from "../../engine/load/load-trade.ts";
import { whatIfCadence } from "../../engine/load/what-if-cadence.ts";
import { measureVideoFrames } from "../../engine/steps/video-frames.ts";

export interface WhatIfLoad {
  readonly perStepPercent: number;
  /** Over a kilometre's steps, for what is thought to wear. */
  readonly perKm: readonly { readonly tissue: LoadTradeRow["tissue"]; readonly percent: number }[];
  readonly notes: readonly string[];
}

/** The model is good for small changes only. */
const WIDEST_CHANGE = 0.15;

/** From the newest clip with a known speed. Needs body mass, and height or leg length; about 50 ms. */
export function whatIfLoad(
  runner: Pick<Runner, "massKg" | "legLengthM" | "heightM">,
  clips: readonly VideoMeasure[],
  changeShare: number,
): WhatIfLoad | undefined {
  const legLengthM = runner.legLengthM ?? (runner.heightM === null ? null : runner.heightM * LEG_LENGTH_SHARE.value);
  if (runner.massKg === null || legLengthM === null || Math.abs(changeShare) > WIDEST_CHANGE) return undefined;
  const clip = clips.toSorted((a, b) => (a.at < b.at ? 1 : -1)).find((one) => one.speedMps !== null);
  if (!clip || clip.speedMps === null) return undefined;
  const contacts = clip.contactFrames.flatMap((landFrame, i) => {
    const toeOffFrame = clip.toeOffFrames[i];
    return toeOffFrame === undefined ? [] : [{ landFrame, toeOffFrame }];
  });
  const measured = measureVideoFrames({ frameRateHz: clip.frameRateHz, contacts, feet: "both" });
  if (!measured.ok || "kind" in measured.value.flightTimeS || !(measured.value.flightTimeS.estimate > 0))
    return undefined;
  const contactTimeS = measured.value.contactTimeS.estimate;
  // The leg must reach over half the contact.
  if ((clip.speedMps * contactTimeS) / 2 >= legLengthM) return undefined;
  const answer = whatIfCadence(
    {
      massKg: runner.massKg,
      legLengthM,
      speedMps: clip.speedMps,
      contactTimeS,
      flightTimeS: measured.value.flightTimeS.estimate,
    },
    changeShare,
  );
  if ("kind" in answer) return undefined;
  return {
    perStepPercent: answer.trade.perStepPercent,
    perKm: answer.trade.rows.map((row) => ({ tissue: row.tissue, percent: row.perKilometrePercent })),
    notes: [answer.assumption, answer.trade.assumption, answer.trade.caution],
  };
}
