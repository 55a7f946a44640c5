import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { bestBeat, greatestDeviation, type LaneRunner, reachOf } from "./lane-beats.ts";
import { makeLanes } from "./lanes.ts";

const seed = 20_260_302;

function runner(id: string, targetSpm: number, capSpm = 250, speedMps?: number): LaneRunner {
  return { id, targetSpm, capSpm, ...(speedMps === undefined ? {} : { speedMps }) };
}

/** Every way of splitting a list into groups. */
function* partitions<Item>(items: readonly Item[]): Generator<Item[][]> {
  const [first, ...rest] = items;
  if (first === undefined) {
    yield [];
    return;
  }
  for (const smaller of partitions(rest)) {
    yield [[first], ...smaller];
    for (let place = 0; place < smaller.length; place += 1)
      yield smaller.map((group, index) => (index === place ? [first, ...group] : group));
  }
}

function shareABeat(group: readonly LaneRunner[], tolerance: number): boolean {
  const reaches = group.map((member) => reachOf(member, tolerance));
  return Math.max(...reaches.map((reach) => reach.low)) <= Math.min(...reaches.map((reach) => reach.high));
}

const runners = fc
  .array(
    fc.record({
      target: fc.integer({ min: 150, max: 185 }),
      over: fc.integer({ min: -4, max: 12 }),
      speed: fc.integer({ min: 22, max: 38 }),
    }),
    {
      minLength: 1,
      maxLength: 9,
    },
  )
  .map((list) =>
    list.map(({ target, over, speed }, index) => runner(`r${index}`, target, target + over / 2, speed / 10)),
  );

describe("lanes", () => {
  it("[L1] slow twin: as few lanes as the best of all ways to split the group, up to 9 runners", () => {
    fc.assert(
      fc.property(runners, fc.constantFrom(0, 0.005, 0.015, 0.03), (group, toleranceShare) => {
        const result = makeLanes(group, { toleranceShare });
        const unplaced = new Set(result.unplaced.map((entry) => entry.id));
        const placeable = group.filter((member) => {
          const reach = reachOf(member, toleranceShare);
          return reach.low <= reach.high;
        });
        expect(group.length - unplaced.size).toBe(placeable.length);
        let fewest = Infinity;
        for (const split of partitions(placeable))
          if (split.length < fewest && split.every((members) => shareABeat(members, toleranceShare)))
            fewest = split.length;
        expect(result.lanes.length).toBe(fewest);
        for (const lane of result.lanes)
          for (const member of lane.members)
            expect(Math.abs(member.deviationShare)).toBeLessThanOrEqual(toleranceShare + 1e-12);
      }),
      { seed, numRuns: 60 },
    );
  });

  it("[L2] property: no beat is above any member's cap, and everyone is placed once or told why not", () => {
    fc.assert(
      fc.property(runners, fc.option(fc.integer({ min: 1, max: 4 }), { nil: undefined }), (group, speakerCount) => {
        const result = makeLanes(group, speakerCount === undefined ? {} : { speakerCount });
        const caps = new Map(group.map((member) => [member.id, member.capSpm]));
        for (const lane of result.lanes)
          for (const member of lane.members) expect(lane.beatSpm).toBeLessThanOrEqual(caps.get(member.id)!);
        const seen = [
          ...result.lanes.flatMap((lane) => lane.members.map((member) => member.id)),
          ...result.unplaced.map((entry) => entry.id),
        ];
        expect(seen.sort()).toEqual(group.map((member) => member.id).sort());
      }),
      { seed, numRuns: 300 },
    );
  });

  it("[L2] a runner whose cap lies below every beat within tolerance is unplaced, not overdriven", () => {
    const result = makeLanes([runner("a", 170, 165), runner("b", 168)], { toleranceShare: 0.015 });
    expect(result.unplaced).toEqual([{ id: "a", reason: "cap-below-tolerance" }]);
    expect(result.lanes).toHaveLength(1);
  });

  it("[L3] slow twin: the smallest worst deviation of all ways to split the group among the speakers", () => {
    fc.assert(
      fc.property(runners, fc.integer({ min: 1, max: 4 }), (group, speakerCount) => {
        const result = makeLanes(group, { speakerCount });
        let least = Infinity;
        for (const split of partitions(group)) {
          if (split.length > speakerCount) continue;
          least = Math.min(least, Math.max(...split.map((members) => greatestDeviation(members, bestBeat(members)))));
        }
        expect(result.lanes.length).toBeLessThanOrEqual(speakerCount);
        expectClose(result.worstDeviationShare, least, { atol: 1e-12, because: "both are exact but for rounding" });
      }),
      { seed, numRuns: 60 },
    );
  });

  it("[L3] closed form: 160 and 170 with one speaker meet at 2·160·170/330, 3.03 % from both", () => {
    const result = makeLanes([runner("a", 160), runner("b", 170)], { speakerCount: 1 });
    expectClose(result.lanes[0]!.beatSpm, 54_400 / 330, { rtol: 1e-14, because: "equal relative distance" });
    expectClose(result.worstDeviationShare, 10 / 330, { rtol: 1e-12, because: "(170 − 160)/(170 + 160)" });
  });

  it("[L3] closed form: a cap lowers the best beat to the cap", () => {
    const result = makeLanes([runner("a", 160, 161), runner("b", 170)], { speakerCount: 1 });
    expect(result.lanes[0]!.beatSpm).toBe(161);
    expectClose(result.worstDeviationShare, 9 / 170, { rtol: 1e-12, because: "the quicker runner gives way" });
  });

  it("slow twin of the best beat: no beat of a fine grid under the caps does better", () => {
    fc.assert(
      fc.property(runners, (group) => {
        const best = greatestDeviation(group, bestBeat(group));
        const cap = Math.min(...group.map((member) => member.capSpm));
        for (let beat = 140; beat <= Math.min(cap, 200); beat += 0.05)
          expect(greatestDeviation(group, beat)).toBeGreaterThanOrEqual(best - 1e-12);
      }),
      { seed, numRuns: 50 },
    );
  });

  it("a lane takes a whole number of beats a minute where one serves everybody", () => {
    const result = makeLanes([runner("a", 166.5), runner("b", 168)]);
    expect(result.lanes.map((lane) => lane.beatSpm)).toEqual([167]);
  });

  it("thirty different targets between 158 and 176 need four beats at 1.5 %", () => {
    // Each lane spans a ratio of 1.015/0.985 = 1.0305; ln(176/158)/ln(1.0305) = 3.6, so four.
    const group = Array.from({ length: 30 }, (_, index) => runner(`r${index}`, 158 + (18 * index) / 29));
    expect(makeLanes(group).lanes).toHaveLength(4);
  });

  it("the order of the runners does not matter", () => {
    fc.assert(
      fc.property(runners, (group) => {
        const forward = makeLanes(group).lanes.map((lane) => lane.beatSpm);
        const backward = makeLanes([...group].reverse()).lanes.map((lane) => lane.beatSpm);
        expect(backward).toEqual(forward);
      }),
      { seed, numRuns: 100 },
    );
  });

  it("an empty group needs no lane", () => {
    expect(makeLanes([])).toEqual({ lanes: [], unplaced: [], worstDeviationShare: 0, provenFewest: true });
  });

  it("refuses impossible questions", () => {
    expect(() => makeLanes([runner("a", 170)], { toleranceShare: -0.1 })).toThrow("toleranceShare must be in [0, 1)");
    expect(() => makeLanes([runner("a", 170)], { speakerCount: 0 })).toThrow("speakerCount must be a whole number");
    expect(() => makeLanes([runner("a", 0)])).toThrow("above 0 spm");
    expect(() => makeLanes([runner("a", 170)], { speakerCount: 2, speedBandMps: 0.2 })).toThrow("not both");
  });
});

describe("lanes that can run together", () => {
  it("[L4] slow twin: as few as the best of all splits by beat and speed, up to 8 runners", () => {
    fc.assert(
      fc.property(
        runners.map((list) => list.slice(0, 8)),
        fc.constantFrom(0.1, 0.3, 0.6),
        (group, speedBandMps) => {
          const toleranceShare = 0.015;
          const result = makeLanes(group, { toleranceShare, speedBandMps });
          const placeable = group.filter(
            (member) => reachOf(member, toleranceShare).low <= reachOf(member, toleranceShare).high,
          );
          const together = (members: readonly LaneRunner[]): boolean => {
            const speeds = members.map((member) => member.speedMps!);
            return (
              Math.max(...speeds) - Math.min(...speeds) <= speedBandMps + 1e-9 && shareABeat(members, toleranceShare)
            );
          };
          let fewest = Infinity;
          for (const split of partitions(placeable))
            if (split.length < fewest && split.every(together)) fewest = split.length;
          expect(result.provenFewest).toBe(true);
          expect(result.lanes.length).toBe(fewest);
          for (const lane of result.lanes)
            expect(lane.speedMps!.high - lane.speedMps!.low).toBeLessThanOrEqual(speedBandMps + 1e-9);
        },
      ),
      { seed, numRuns: 60 },
    );
  });

  it("[L4] the largest lane first is not always best: two of three beat a four with two left over", () => {
    // 162.4 and 166.5 can share a beat, but then 160 and 169 are left alone.
    const group = [160, 162.4, 162.4, 166.5, 166.5, 169].map((target, index) => runner(`r${index}`, target, 250, 2.8));
    const result = makeLanes(group, { toleranceShare: 0.015, speedBandMps: 0.1 });
    expect(result.lanes.map((lane) => lane.members.length)).toEqual([3, 3]);
    expect(result.provenFewest).toBe(true);
  });

  it("[L4] a runner without a speed is told apart, not guessed", () => {
    const result = makeLanes([runner("a", 168, 200, 2.8), runner("b", 168)], { speedBandMps: 0.2 });
    expect(result.unplaced).toEqual([{ id: "b", reason: "speed-unknown" }]);
  });

  it("[L1] runners who share a target hear just that, a half step included", () => {
    const pair = ["a", "b"].map((id) => ({ id, targetSpm: 159.5, capSpm: 170 }));
    const { lanes } = makeLanes([...pair, { id: "c", targetSpm: 170.5, capSpm: 180 }]);
    expect(lanes.map(({ beatSpm }) => beatSpm)).toEqual([159.5, 170.5]);
  });

  it("[L2] [L3] property: in tenths a beat is one that prints whole, never above a cap, and costs at most a tenth of a step", () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.double({ min: 150, max: 190, noNaN: true }), fc.double({ min: 0.2, max: 8, noNaN: true })),
          {
            minLength: 1,
            maxLength: 20,
          },
        ),
        fc.integer({ min: 1, max: 5 }),
        (people, speakerCount) => {
          const runners = people.map(([targetSpm, room], index) => ({
            id: `${index}`,
            targetSpm,
            capSpm: targetSpm + room,
          }));
          const exact = makeLanes(runners, { speakerCount });
          const tenths = makeLanes(runners, { speakerCount, inTenths: true });
          expect(tenths.worstDeviationShare).toBeLessThanOrEqual(exact.worstDeviationShare + 0.1 / 150);
          for (const lane of tenths.lanes) {
            expect(lane.beatSpm).toBe(Number(lane.beatSpm.toFixed(1)));
            for (const { id } of lane.members) expect(lane.beatSpm).toBeLessThanOrEqual(runners[Number(id)]!.capSpm);
          }
        },
      ),
      { seed: 20_261_125, numRuns: 200 },
    );
  });
});
