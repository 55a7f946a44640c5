// Rule P1: the way from the baseline to the aim in small stages, none larger than the limit.
import { stageGridSpm } from "../evidence/plans.ts";
import type { AdviceSettings } from "./settings.ts";

export interface Ladder {
  /** Target of each stage, both feet, rising; the last is the aim. Empty when the rise is under one grid step. */
  readonly stages: readonly number[];
  /** Where this programme ends: the aim asked for, rounded down to the grid, or lower when the stages run out (P11). */
  readonly aimSpm: number;
  /** True when the stages run out before the aim asked for. */
  readonly cutShort: boolean;
}

/** Rounded down to the grid; the tiny allowance keeps 160 + 2 from becoming 161.5 through binary fractions. */
export function floorToGrid(stepRateSpm: number): number {
  const grid = stageGridSpm.value;
  return Math.floor(stepRateSpm / grid + 1e-9) * grid;
}

/** Stage targets from baseline to aim, spm both feet. `careful` halves the stages (T5). */
export function makeLadder(baselineSpm: number, aimSpm: number, careful: boolean, settings: AdviceSettings): Ladder {
  const usual = Math.min(settings.stageStepSpm, settings.stageShareMax * baselineSpm);
  const step = Math.max(floorToGrid(careful ? usual * settings.carefulStageShare : usual), stageGridSpm.value);
  const reach = floorToGrid(baselineSpm + step * settings.stageCountMax);
  const wanted = floorToGrid(aimSpm);
  const end = Math.min(wanted, reach);
  const rise = end - baselineSpm;
  const count = Math.ceil(rise / step - 1e-9);
  // Whole steps and a smaller last one; a last one under half a step is spread over all of them instead.
  const last = rise - (count - 1) * step;
  const each = last < step / 2 - 1e-9 ? rise / count : step;
  const stages: number[] = [];
  for (let stage = 1; stage <= count; stage += 1) {
    const target = stage === count ? end : floorToGrid(baselineSpm + each * stage);
    if (target > (stages.at(-1) ?? baselineSpm)) stages.push(target);
  }
  return { stages, aimSpm: end, cutShort: wanted > end };
}
