// How unevenly the two alternating steps follow each other, from the contact times themselves.
import { type NotEnough, type Uncertain } from "../quantities/uncertain.ts";

const CONTACTS_PER_BLOCK = 16;
const LEAST_BLOCKS = 5;

/**
 * Percent difference of the two alternating step times over their mean. Each contact is compared with the middle of its
 * neighbours; blocks of 16 contacts give the standard error. Needs 80 contacts without a break. Where one foot's sound
 * begins less sharply than the other's, its onset is seen some milliseconds later: `onsetErrorS` is the standard error
 * of that, added in quadrature.
 */
export function soundTimingAsymmetry(stepTimesS: readonly number[], onsetErrorS: number): Uncertain | NotEnough {
  const blockMeans: number[] = [];
  let sum = 0;
  let count = 0;
  for (let index = 1; index + 1 < stepTimesS.length; index += 1) {
    const span = stepTimesS[index + 1]! - stepTimesS[index - 1]!;
    const lead = (2 * stepTimesS[index]! - stepTimesS[index - 1]! - stepTimesS[index + 1]!) / span;
    sum += index % 2 === 0 ? lead : -lead;
    count += 1;
    if (count === CONTACTS_PER_BLOCK) {
      blockMeans.push(sum / count);
      sum = 0;
      count = 0;
    }
  }
  if (blockMeans.length < LEAST_BLOCKS)
    return {
      kind: "not-enough",
      need: `${LEAST_BLOCKS * CONTACTS_PER_BLOCK} contacts of running in one piece`,
      have: `${stepTimesS.length} contacts`,
    };
  const blocks = blockMeans.length;
  const mean = blockMeans.reduce((total, value) => total + value, 0) / blocks;
  const variance = blockMeans.reduce((total, value) => total + (value - mean) ** 2, 0) / (blocks - 1);
  const stepS = (stepTimesS.at(-1)! - stepTimesS[0]!) / (stepTimesS.length - 1);
  // A contact late by the share d of a step makes one interval 1 + d and the next 1 − d.
  const estimate = 200 * Math.abs(mean);
  const standardError = 200 * Math.sqrt(variance / blocks + (onsetErrorS / stepS) ** 2);
  return {
    estimate,
    standardError,
    interval95: { low: Math.max(0, estimate - 1.96 * standardError), high: estimate + 1.96 * standardError },
    sampleCount: blocks,
    method: `alternating contact times in blocks of ${CONTACTS_PER_BLOCK}`,
  };
}
