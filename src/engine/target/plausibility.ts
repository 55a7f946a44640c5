// Rule T8: height and leg length never set a target. They only mark a value that is worth measuring again.
import { LEG_LENGTH_SHARE } from "../evidence/load.ts";
import { heightReference, legFlagShares, runnerToRunnerSpreadSpm } from "../evidence/targets.ts";
import { plain, type Reason, reason } from "./reason.ts";
import type { AdviceSettings } from "./settings.ts";
import { stepRateAtSpeed } from "./speed-curve.ts";

export interface Body {
  readonly heightM?: number;
  readonly legLengthM?: number;
}

/** What height suggests by dynamic similarity, f ∝ height^-0.5, at the reference's speed law. Context only. */
function stepRateFromHeight(heightM: number, speedMps: number, exponent: number): number {
  const { stepRateSpm, speedMps: referenceMps, heightM: referenceM } = heightReference.value;
  return stepRateAtSpeed(stepRateSpm, referenceMps, speedMps, exponent) * Math.sqrt(referenceM / heightM);
}

/** Marks, in plain words, of a baseline or body measure that looks like a slip. Empty when nothing stands out. */
export function flagImplausible(
  baselineSpm: number,
  speedMps: number | undefined,
  body: Body,
  settings: AdviceSettings,
): Reason[] {
  const marks: Reason[] = [];
  const { heightM, legLengthM } = body;
  if (heightM !== undefined && speedMps !== undefined) {
    const expected = stepRateFromHeight(heightM, speedMps, settings.speedExponent);
    const limit = settings.heightFlagSpreads * runnerToRunnerSpreadSpm.value;
    if (Math.abs(baselineSpm - expected) > limit)
      marks.push(
        reason(
          "T8",
          `${plain(baselineSpm)} spm is far from the ${plain(expected)} that height and speed suggest: measure once more, and check which feet were counted. Height says little about one runner and does not change the target.`,
          heightReference,
          runnerToRunnerSpreadSpm,
        ),
      );
  }
  if (heightM !== undefined && legLengthM !== undefined) {
    const { low, high } = legFlagShares.value;
    const share = legLengthM / heightM;
    if (share < low || share > high)
      marks.push(
        reason(
          "T8",
          `A leg of ${legLengthM} m at a height of ${heightM} m is unusual (most legs are near ${Math.round(LEG_LENGTH_SHARE.value * 100)} % of height): check the entry. It does not change the target.`,
          legFlagShares,
          LEG_LENGTH_SHARE,
        ),
      );
  }
  return marks;
}
