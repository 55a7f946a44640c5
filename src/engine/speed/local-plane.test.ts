import geodesic from "geographiclib-geodesic";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { inventTrack } from "../synthetic/tracks.ts";
import { toPlane } from "./local-plane.ts";
import { estimatePositionNoise } from "./position-noise.ts";

const earth = geodesic.Geodesic.WGS84;

describe("the plane", () => {
  test("outside tool: step lengths against GeographicLib's geodesics, at every latitude, heading and across 180°", () => {
    for (const lat of [-89.9, -60, -33.3, 0, 12, 45, 51.5, 70, 89.9])
      for (const azimuth of [0, 37, 90, 135, 200, 271, 300])
        for (const lengthM of [1, 30, 1000]) {
          const end = earth.Direct(lat, 179.999, azimuth, lengthM);
          const { eastM, northM } = toPlane(Float64Array.of(lat, end.lat2!), Float64Array.of(179.999, end.lon2!));
          // Near the poles a kilometre turns through several degrees of longitude: a plane is not meant for that.
          const rtol = Math.abs(lat) > 89 ? 5e-2 : 1e-6;
          const because = `latitude ${lat}, azimuth ${azimuth}, ${lengthM} m`;
          expectClose(Math.hypot(eastM[1]!, northM[1]!), lengthM, { rtol, because });
        }
  });

  test("missing places are passed over", () => {
    const { eastM, northM } = toPlane(Float64Array.of(NaN, 0, NaN, 0), Float64Array.of(10, 10, 10, 10.001));
    expect(eastM[0]).toBeNaN();
    expect(eastM[1]).toBe(0);
    expect(eastM[2]).toBeNaN();
    expectClose(eastM[3]!, earth.Inverse(0, 10, 0, 10.001).s12!, { rtol: 1e-9, because: "along the equator" });
    expect(northM[3]).toBe(0);
  });
});

test("simulation: the noise is learnt from the track, within its range", () => {
  const estimate = (whiteM: number, seconds: number, sampleIntervalS = 1): number => {
    const { recording } = inventTrack({
      seed: 6,
      legs: [{ durationS: seconds, speedMps: 3, stepRateSpm: 168 }],
      noise: { whiteM },
      sampleIntervalS,
    });
    return estimatePositionNoise(recording.timeS, toPlane(recording.latitudeDeg, recording.longitudeDeg));
  };
  expectClose(estimate(2, 3000), 2, { rtol: 0.05, because: "a median of 6000 values, correlated in threes" });
  expectClose(estimate(5, 3000), 5, { rtol: 0.05, because: "as above" });
  expect(estimate(0, 3000)).toBe(0.5);
  expect(estimate(20, 3000)).toBe(8);
  expect(estimate(1, 20)).toBe(3);
  expect(estimate(1, 3000, 5)).toBe(3);
});
