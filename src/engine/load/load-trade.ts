// The trade that a quicker step makes: less load a step, more steps. Both shown, with the assumption that decides between them.
import { DAMAGE_EXPONENTS, PUBLISHED_LOAD_CHANGES, type PublishedLoadChange } from "../evidence/load.ts";
import { LOAD_CAUTION } from "./load-estimate.ts";
import { breakEvenReduction, perKilometreRatio } from "./per-kilometre.ts";

export interface LoadTradeRow {
  /** What is thought to wear: "impulse" counts steps and load alike, "bone" and "tendon" count hard steps far more. */
  readonly tissue: keyof typeof DAMAGE_EXPONENTS.value;
  readonly exponent: number;
  /** Change of the damage index per kilometre, percent. */
  readonly perKilometrePercent: number;
  /** By how much the load of a step must fall so that more steps add nothing, percent. */
  readonly breakEvenPercent: number;
}

export interface LoadTrade {
  readonly perStepPercent: number;
  readonly rows: readonly LoadTradeRow[];
  /** Group averages of three studies, per step and per distance side by side. */
  readonly published: readonly PublishedLoadChange[];
  readonly assumption: string;
  readonly caution: string;
}

/** The trade for a change of step rate and of the load per step, both as shares above −1 (RangeError otherwise). */
export function loadTrade(stepRateChangeShare: number, perStepChangeShare: number): LoadTrade {
  const tissues = Object.entries(DAMAGE_EXPONENTS.value) as [LoadTradeRow["tissue"], number][];
  return {
    perStepPercent: 100 * perStepChangeShare,
    rows: tissues.map(([tissue, exponent]) => ({
      tissue,
      exponent,
      perKilometrePercent: 100 * (perKilometreRatio(stepRateChangeShare, perStepChangeShare, exponent) - 1),
      breakEvenPercent: 100 * breakEvenReduction(stepRateChangeShare, exponent),
    })),
    published: PUBLISHED_LOAD_CHANGES.value,
    assumption: DAMAGE_EXPONENTS.note,
    caution: LOAD_CAUTION,
  };
}
