// A session's blocks on an exact clock, and the stretches in which the beat sounds.
import { DEFAULT_CUE_CYCLE_S } from "../evidence/beats.ts";
import { type BlockKind, type Session, type SessionBlock } from "../session/session.ts";
import { type Rational, add, divide, fromDecimal, lesser, compare, multiply, rational } from "./rational.ts";
import { type BeatOptions, type BeatSpan, type SteadyBeat } from "./schedule.ts";

export interface TimedBlock {
  readonly kind: BlockKind;
  readonly startS: Rational;
  readonly endS: Rational;
}

export interface Timeline {
  readonly blocks: readonly TimedBlock[];
  readonly spans: readonly BeatSpan[];
  readonly endS: Rational;
}

const SECONDS_PER_MINUTE = rational(60n);

export function spmToExactHz(stepRateSpm: number): Rational {
  return divide(fromDecimal(stepRateSpm), SECONDS_PER_MINUTE);
}

export function blocksOf(source: Session | SteadyBeat): readonly SessionBlock[] {
  return "blocks" in source ? source.blocks : [{ kind: "cue-on", ...source }];
}

/** Exact length of a checked block: its time, or its distance at its speed. */
export function blockDurationS(block: SessionBlock): Rational {
  if (block.durationS !== undefined) return fromDecimal(block.durationS);
  return divide(fromDecimal(block.distanceM!), fromDecimal(block.speedMps!));
}

/** Does a beat sound in this block? A cue-off block is silent even when it carries the target's rate. */
export function sounds(block: SessionBlock): boolean {
  return block.stepRateSpm !== undefined && block.kind !== "cue-off" && (block.cueShare ?? 1) > 0;
}

/** Lays checked blocks end to end from leadInS on. */
export function layOut(blocks: readonly SessionBlock[], leadInS: Rational, options: BeatOptions): Timeline {
  let startS = leadInS;
  const timed: TimedBlock[] = [];
  const spans: BeatSpan[] = [];
  for (const [blockIndex, block] of blocks.entries()) {
    const durationS = blockDurationS(block);
    const endS = add(startS, durationS);
    timed.push({ kind: block.kind, startS, endS });
    if (sounds(block)) {
      const startRateHz = spmToExactHz(block.stepRateSpm!);
      const endRateHz = spmToExactHz(block.endStepRateSpm ?? block.stepRateSpm!);
      const rateAt = (elapsedS: Rational): Rational => {
        const rise = add(endRateHz, multiply(rational(-1n), startRateHz));
        return add(startRateHz, divide(multiply(rise, elapsedS), durationS));
      };
      for (const [index, part] of soundingParts(block, durationS, options).entries())
        spans.push({
          blockIndex,
          startS: add(startS, part.fromS),
          endS: add(startS, part.toS),
          startRateHz: rateAt(part.fromS),
          endRateHz: rateAt(part.toS),
          opensBlock: index === 0,
        });
    }
    startS = endS;
  }
  return { blocks: timed, spans, endS: startS };
}

interface Part {
  readonly fromS: Rational;
  readonly toS: Rational;
}

/** The sounding parts of a block, from its own start. A ramp keeps moving through the silences. */
function soundingParts(block: SessionBlock, durationS: Rational, options: BeatOptions): readonly Part[] {
  const zero = rational(0n);
  const share = fromDecimal(block.cueShare ?? 1);
  if (compare(share, rational(1n)) >= 0) return [{ fromS: zero, toS: durationS }];
  const cueS = multiply(share, durationS);
  switch (options.cuePlacement ?? "first") {
    case "first":
      return [{ fromS: zero, toS: cueS }];
    case "around": {
      const half = divide(cueS, rational(2n));
      return [
        { fromS: zero, toS: half },
        { fromS: add(durationS, multiply(rational(-1n), half)), toS: durationS },
      ];
    }
    case "cycles": {
      const cycleS = fromDecimal(options.cueCycleS ?? DEFAULT_CUE_CYCLE_S.value);
      const parts: Part[] = [];
      for (let fromS = zero; compare(fromS, durationS) < 0; fromS = add(fromS, cycleS)) {
        // The last cycle may be shorter: its cue is shortened in proportion, so the share of the block is kept exactly.
        const toS = lesser(add(fromS, cycleS), durationS);
        const lengthS = add(toS, multiply(rational(-1n), fromS));
        parts.push({ fromS, toS: add(fromS, multiply(share, lengthS)) });
      }
      return parts;
    }
  }
}
