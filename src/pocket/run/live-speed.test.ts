import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createLiveSpeed, type Fix } from "./live-speed.ts";

/** North along a meridian near 45°: one degree is 111,132 m there (WGS 84, from the meridian's radius of curvature). */
const northwards = (timeS: number, speedMps: number, change: Partial<Fix> = {}): Fix => ({
  timeS,
  latitudeDeg: 45 + (speedMps * timeS) / 111_132,
  longitudeDeg: 7,
  accuracyM: 5,
  speedMps: null,
  ...change,
});

describe("speed now", () => {
  it("closed form: even steps north at 3 m/s are 3 m/s", () => {
    const speed = createLiveSpeed();
    for (let timeS = 0; timeS <= 12; timeS += 1) speed.push(northwards(timeS, 3));
    expectClose(speed.at(12) ?? 0, 3, { rtol: 1e-3, because: "the degree's length is given to a metre" });
  });

  it("says nothing before five seconds of it, and nothing once the sky is gone", () => {
    const speed = createLiveSpeed();
    for (let timeS = 0; timeS <= 4; timeS += 1) speed.push(northwards(timeS, 3));
    expect(speed.at(4)).toBeNull();
    speed.push(northwards(5, 3));
    expect(speed.at(5)).not.toBeNull();
    expect(speed.at(11.5)).toBeNull();
  });

  it("takes the middle of the receiver's own speeds when every fix has one", () => {
    const speed = createLiveSpeed();
    for (const [timeS, speedMps] of [2.6, 2.7, 9, 2.8, 2.7, 2.7, 2.6].entries())
      speed.push(northwards(timeS, 3, { speedMps }));
    expect(speed.at(6)).toBe(2.7);
  });

  it("leaves out a fix that does not know where it is, and one from before", () => {
    const speed = createLiveSpeed();
    for (let timeS = 0; timeS <= 10; timeS += 1) speed.push(northwards(timeS, 3));
    speed.push(northwards(10.5, 3, { latitudeDeg: 46, accuracyM: 400 }));
    speed.push(northwards(3, 3, { latitudeDeg: 46 }));
    expectClose(speed.at(10.6) ?? 0, 3, { rtol: 1e-3, because: "neither counts" });
  });
});
