// Rules T2–T4: whether a runner is left alone, and which rise is the nearest one worth having.
import { SMALLEST_WORTHWHILE_CHANGE_SPM } from "../evidence/change.ts";
import * as known from "../evidence/targets.ts";
import { percent, plain, type Reason, reason } from "./reason.ts";
import type { AdviceSettings } from "./settings.ts";

/** T2: the reason to leave alone, or null when there is none. Step rates of both feet. */
export function leaveAlone(baselineSpm: number, pain: number, settings: AdviceSettings): Reason | null {
  const rise = settings.commonBandLowSpm - baselineSpm;
  if (baselineSpm >= settings.commonBandHighSpm)
    return reason(
      "T2",
      `${plain(baselineSpm)} spm is at or above the band that many coaches like (${settings.commonBandLowSpm} to ${settings.commonBandHighSpm}): nothing speaks for still more.`,
      known.commonBandLowSpm,
      known.commonBandHighSpm,
    );
  if (pain > 0) return null;
  if (rise <= 0)
    return reason(
      "T2",
      `${plain(baselineSpm)} spm lies in the band that many coaches like (${settings.commonBandLowSpm} to ${settings.commonBandHighSpm}) and nothing hurts: leave it alone.`,
      known.commonBandLowSpm,
      known.commonBandHighSpm,
    );
  if (rise < settings.smallestWorthwhileSpm)
    return reason(
      "T2",
      `${plain(baselineSpm)} spm is less than ${plain(settings.smallestWorthwhileSpm)} spm below the band that many coaches like, a difference too small to feel or to measure, and nothing hurts: leave it alone.`,
      known.commonBandLowSpm,
      SMALLEST_WORTHWHILE_CHANGE_SPM,
    );
  return null;
}

/** T3 and T4: the nearest of band edge, usual rise and the coach's goal that is a rise worth having, under the cap. */
export function chooseRise(
  baselineSpm: number,
  cap: number,
  careful: boolean,
  goal: number | undefined,
  settings: AdviceSettings,
): { readonly aimSpm: number; readonly reasons: readonly Reason[] } {
  const usual = {
    spm: baselineSpm * (1 + settings.usualRiseShare),
    words: `${percent(settings.usualRiseShare)} above the runner's own step rate, the middle dose of trials`,
    sources: [known.usualRiseShare],
  };
  const candidates = [
    {
      spm: settings.commonBandLowSpm,
      words: "the low edge of the band that many coaches like",
      sources: [known.commonBandLowSpm],
    },
    // Reached only by a runner inside the band whom something hurts a little.
    {
      spm: settings.commonBandHighSpm,
      words: "the high edge of the band that many coaches like",
      sources: [known.commonBandHighSpm],
    },
    usual,
    ...(goal === undefined ? [] : [{ spm: goal, words: "the coach's own goal", sources: [] }]),
  ]
    .filter((candidate) => candidate.spm - baselineSpm >= settings.smallestWorthwhileSpm)
    .sort((a, b) => a.spm - b.spm);
  const nearest = candidates[0] ?? usual;
  // The coach's own goal is spoken of below.
  const further = candidates
    .slice(1)
    .filter(({ spm }) => spm !== goal)
    .map(({ spm, words }) => `${words} (${plain(spm)})`);
  const reasons: Reason[] = [
    reason(
      "T3",
      `From ${plain(baselineSpm)} towards ${plain(nearest.spm)} spm: ${nearest.words}.${further.length > 0 ? ` The nearest aim is taken; further off: ${further.join(", ")}.` : ""}`,
      ...nearest.sources,
    ),
  ];
  if (goal !== undefined && goal < baselineSpm + settings.smallestWorthwhileSpm)
    reasons.push(reason("T3", `The coach's goal of ${plain(goal)} spm is no rise worth a programme and was not used.`));
  else if (goal !== undefined && goal > nearest.spm)
    reasons.push(reason("T3", `The coach's goal of ${plain(goal)} spm lies further off; this step comes first.`));
  if (nearest.spm > cap)
    reasons.push(
      reason(
        careful ? "T5" : "T4",
        `Never above ${plain(cap)} spm in this programme.`,
        careful ? known.carefulRiseShare : known.greatestRiseShare,
      ),
    );
  return { aimSpm: Math.min(nearest.spm, cap), reasons };
}
