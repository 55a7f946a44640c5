import { describe, expect, it } from "vitest";
import { createRandom } from "../quantities/random.ts";
import { measureSounds, whichFeet } from "./sound-feet.ts";

const INTERVAL = 35;
const BANDS = 14;

/** Flux with background noise, and a sound of the given height at every even and every odd place. */
function heard(even: number, odd: number, seed = 1): ReturnType<typeof whichFeet> {
  const random = createRandom(seed);
  const flux = Float64Array.from({ length: 50 * INTERVAL }, () => 2 + 2 * random.next());
  const frames = Array.from({ length: 44 }, (_, index) => (index + 2) * INTERVAL);
  frames.forEach((frame, index) => {
    flux[frame] = flux[frame]! + (index % 2 === 0 ? even : odd) * (0.8 + 0.4 * random.next());
  });
  const sounds = measureSounds(flux, frames);
  return whichFeet(sounds, 0, frames.length, BANDS);
}

describe("whichFeet", () => {
  it("closed form: two equal feet, and one at a fifth of the other's height, are all steps", () => {
    expect(heard(60, 60)).toBe("all");
    expect(heard(60, 14)).toBe("all");
    expect(heard(14, 60)).toBe("all");
  });

  it("closed form: nothing between loud sounds is a walk, on whichever places the sounds are", () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      expect(heard(60, 0, seed)).toEqual({ parity: 0 });
      expect(heard(0, 60, seed)).toEqual({ parity: 1 });
    }
  });

  it("nothing between faint sounds proves nothing", () => {
    expect(heard(12, 0)).toBe("unclear");
    expect(heard(0, 0)).toBe("unclear");
  });

  it("a sound in the middle that is far too weak for a foot, however regular, is no step", () => {
    expect(heard(200, 5)).not.toBe("all");
  });

  it("a few sounds are not enough", () => {
    const flux = new Float64Array(400).fill(1);
    for (const frame of [70, 105, 140, 175, 210]) flux[frame] = 50;
    expect(whichFeet(measureSounds(flux, [70, 105, 140, 175, 210]), 0, 5, BANDS)).toBe("unclear");
  });
});
