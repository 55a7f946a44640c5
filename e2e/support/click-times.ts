// Where the clicks of a track are, found in the decoded sound alone: the first sample above the threshold after a silence.
import type { Page } from "playwright-core";

export interface HeardClicks {
  readonly timesS: readonly number[];
  readonly peak: number;
}

/** Decodes the file behind `address` with the browser's own decoder. */
export function clickTimesS(page: Page, address: string): Promise<HeardClicks> {
  return page.evaluate(async (url) => {
    const bytes = await (await fetch(url, { headers: { "x-spondee": "1" } })).arrayBuffer();
    const sampleRateHz = 44_100;
    const sound = (await new OfflineAudioContext(1, 1, sampleRateHz).decodeAudioData(bytes)).getChannelData(0);
    const silenceSamples = 0.1 * sampleRateHz;
    const timesS: number[] = [];
    let peak = 0;
    let quietSince = -silenceSamples;
    for (let index = 0; index < sound.length; index += 1) {
      const level = Math.abs(sound[index]!);
      if (level > peak) peak = level;
      if (level < 0.02) continue;
      if (index - quietSince >= silenceSamples) timesS.push(index / sampleRateHz);
      quietSince = index;
    }
    return { timesS, peak };
  }, address);
}
