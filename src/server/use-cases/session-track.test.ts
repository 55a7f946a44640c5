// Spoken announcements by way of the route's own use case, with an invented speaker.
import { describe, expect, it } from "vitest";
import { collect } from "../../../tests/collect.ts";
import { makeSession } from "../../engine/session/make-session.ts";
import { sessionTrackFile } from "./beat-track.ts";

const session = makeSession({ id: "s", targetSpm: 164, mainMinutes: 1, cueShare: 0.5 });
const beat = { session, initials: "AB", settingsJson: "{}" };
const said: string[] = [];
const speech = () =>
  Promise.resolve((text: string) => {
    said.push(text);
    return Promise.resolve({ sampleRateHz: 8000, samples: new Int16Array(4000).fill(9000) });
  });

async function sizeOf(deps: Parameters<typeof sessionTrackFile>[0], wish: object): Promise<number> {
  const track = await sessionTrackFile(deps, beat, { format: "wav", sampleRateHz: 8000, ...wish });
  return (await collect(track.chunks())).length;
}

describe("a session's track", () => {
  it("speaks each block when wished, and is longer for the words before the first", async () => {
    const tones = await sizeOf({ speech }, {});
    expect(said).toEqual([]);
    const words = await sizeOf({ speech }, { speech: true });
    expect(said).toHaveLength(session.blocks.length + 1);
    expect(said[0]).toMatch(/^Warm up/);
    expect(said.at(-1)).toBe("Finished.");
    expect(words).toBeGreaterThan(tones);
  });

  it("stays with tones where the machine cannot speak", async () => {
    const tones = await sizeOf({}, {});
    expect(await sizeOf({}, { speech: true })).toBe(tones);
    expect(await sizeOf({ speech: () => Promise.resolve(undefined) }, { speech: true })).toBe(tones);
  });
});
