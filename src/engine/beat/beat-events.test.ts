import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { anySchedule, scheduleOf, session, steps } from "../../../tests/beat-sessions.ts";
import { expectClose } from "../../../tests/expect-close.ts";
import { createBeatCursor } from "./cursor.ts";
import { beatEvents } from "./events.ts";
import { toNumber } from "./rational.ts";
import { type BeatEvent, type BeatSchedule } from "./schedule.ts";

const SEED = 20_261_125;

describe("beat events, steady", () => {
  it("closed form: a day at 173.3 spm has every beat on the exact fraction 600k/1733 s, to the sample", () => {
    const sampleRateHz = 44_100;
    const schedule = scheduleOf({ stepRateSpm: 173.3, durationS: 86_400 }, { sampleRateHz });
    expect(schedule.beatCount).toBe(249_552); // 24 · 60 · 173.3, and beat 0 at 0 s
    let beat = 0n;
    let worstS = 0;
    for (const event of beatEvents(schedule)) {
      // Half up: floor(x + 1/2) with x = 44100 · 600 · k / 1733.
      const exact = (2n * 44_100n * 600n * beat + 1733n) / (2n * 1733n);
      if (BigInt(event.sampleIndex) !== exact) expect.fail(`beat ${beat}: sample ${event.sampleIndex}, exact ${exact}`);
      worstS = Math.max(worstS, Math.abs(event.timeS - Number((600n * beat * 10n ** 12n) / 1733n) / 1e12));
      beat += 1n;
    }
    expect(beat).toBe(249_552n);
    expect(worstS).toBeLessThan(1e-9);
  });

  it("closed form: sample rates and rates that fall on half samples round up, as exact arithmetic says", () => {
    // 60·22050/176.4 = 7500 samples a beat; 60·44100/200 = 13230; 60·8000/192 = 2500; 60·22050/216 = 6125; 60·8001/240 = 2000.25.
    for (const [sampleRateHz, stepRateSpm] of [
      [22_050, 176.4],
      [8001, 240],
      [48_000, 171],
      [44_100, 133.7],
    ] as const) {
      const numerator = BigInt(Math.round(stepRateSpm * 10));
      const events = steps(scheduleOf({ stepRateSpm, durationS: 120 }, { sampleRateHz }));
      const expected = events.map((_, k) =>
        Number((2n * 600n * BigInt(sampleRateHz) * BigInt(k) + numerator) / (2n * numerator)),
      );
      expect(events.map(({ sampleIndex }) => sampleIndex)).toEqual(expected);
    }
  });

  it("published: metronome intervals at 170, 178.5 and 180 spm are 352.94, 336.13 and 333.33 ms (60000/C, arithmetic)", () => {
    const intervalMs = [170, 178.5, 180].map((stepRateSpm) => {
      const [first, second] = steps(scheduleOf({ stepRateSpm, durationS: 10 }));
      return 1000 * (second!.timeS - first!.timeS);
    });
    expectClose(intervalMs, [352.94, 336.13, 333.33], { atol: 0.01, because: "two decimals are given" });
  });

  it("closed form: beats of a half-open block number ceil(rate · time)", () => {
    expect(scheduleOf({ stepRateSpm: 170, durationS: 60 }).beatCount).toBe(170);
    expect(scheduleOf({ stepRateSpm: 170, durationS: 60.001 }).beatCount).toBe(171);
    expect(scheduleOf({ stepRateSpm: 60, durationS: 0.5 }).beatCount).toBe(1);
  });
});

describe("beat events, ramps", () => {
  /** Time of beat k by bisection in integers of 1e-15 s on 2·T·k·600 = (2·f0·T·t + (f1−f0)·t²)·…, rates in tenths of spm. */
  function slowBeatTimeS(beat: number, startTenths: bigint, endTenths: bigint, lengthS: bigint): number {
    const scale = 10n ** 15n;
    const target = 600n * BigInt(beat) * 2n * lengthS * scale * scale;
    let low = 0n;
    let high = lengthS * scale;
    while (high - low > 1n) {
      const middle = (low + high) / 2n;
      const phase = 2n * startTenths * lengthS * scale * middle + (endTenths - startTenths) * middle * middle;
      if (phase < target) low = middle;
      else high = middle;
    }
    return Number(high) / 1e15;
  }

  it.each([
    [1600n, 1750n, 3600n],
    [1800n, 1600n, 3600n],
    [1733n, 1734n, 1200n],
    [1200n, 1200n, 600n],
  ])("slow twin: a ramp from %s to %s tenths of spm over %s s", (start, end, lengthS) => {
    const schedule = scheduleOf(
      session({
        kind: "cue-on",
        durationS: Number(lengthS),
        stepRateSpm: Number(start) / 10,
        endStepRateSpm: Number(end) / 10,
      }),
      { sampleRateHz: 48_000 },
    );
    const events = steps(schedule);
    // Mean rate times time.
    expect(events.length).toBe(Number(((start + end) * lengthS + 1199n) / 1200n));
    for (let beat = 0; beat < events.length; beat += 7) {
      const expected = slowBeatTimeS(beat, start, end, lengthS);
      expectClose(events[beat]!.timeS, expected, { atol: 1e-9, because: "the requirement" });
      expectClose(events[beat]!.sampleIndex, expected * 48_000, { atol: 0.500001, because: "nearest sample" });
    }
  });

  it("closed form: a ramp between steady blocks keeps the phase, so no interval is odd", () => {
    const schedule = scheduleOf(
      session(
        { kind: "cue-on", durationS: 100.3, stepRateSpm: 160 },
        { kind: "cue-on", durationS: 61.7, stepRateSpm: 160, endStepRateSpm: 170 },
        { kind: "cue-on", durationS: 50, stepRateSpm: 170 },
      ),
    );
    const times = steps(schedule).map(({ timeS }) => timeS);
    for (let index = 1; index < times.length; index += 1) {
      const intervalS = times[index]! - times[index - 1]!;
      expect(intervalS).toBeLessThanOrEqual(60 / 160 + 1e-9);
      expect(intervalS).toBeGreaterThanOrEqual(60 / 170 - 1e-9);
    }
    // 100.3·160/60 + 61.7·165/60 + 50·170/60 = 578.8083… beats of phase.
    expect(times.length).toBe(579);
  });
});

describe("beat events, blocks", () => {
  it("a cue-off block is silent although it carries a rate, and the beat returns on the left foot exactly at its end", () => {
    const events = steps(
      scheduleOf(
        session(
          { kind: "cue-on", durationS: 10, stepRateSpm: 171 },
          { kind: "cue-off", durationS: 20, stepRateSpm: 171 },
          { kind: "cue-on", durationS: 10, stepRateSpm: 171 },
        ),
      ),
    );
    expect(events.filter(({ timeS }) => timeS >= 10 && timeS < 30)).toEqual([]);
    expect(events.find(({ blockIndex }) => blockIndex === 2)).toMatchObject({
      timeS: 30,
      sampleIndex: 1_323_000,
      voice: "left",
    });
  });

  it("a distance block lasts distance over speed: 1000 m at 2.5 m/s is 400 s", () => {
    const schedule = scheduleOf(session({ kind: "cue-on", distanceM: 1000, speedMps: 2.5, stepRateSpm: 165 }));
    expect(schedule.durationS).toBe(400);
    expect(schedule.beatCount).toBe(1100);
  });

  it.each([
    ["first", [[0, 150]]],
    [
      "around",
      [
        [0, 75],
        [525, 600],
      ],
    ],
    ["cycles", Array.from({ length: 10 }, (_, cycle) => [60 * cycle, 60 * cycle + 15])],
  ] as const)("a quarter of a 600 s block, placed %s, sounds in the stated parts only", (cuePlacement, parts) => {
    const events = steps(
      scheduleOf(session({ kind: "cue-on", durationS: 600, stepRateSpm: 180, cueShare: 0.25 }), { cuePlacement }),
    );
    const inside = (timeS: number): boolean => parts.some(([from, to]) => timeS >= from! && timeS < to!);
    expect(events.every(({ timeS }) => inside(timeS))).toBe(true);
    expect(events.length).toBe(450); // 150 s at 3 Hz
    for (const [from] of parts) expect(events.some(({ timeS }) => timeS === from)).toBe(true);
  });

  it("a share of 0 is silent and a share of 1 is the whole block", () => {
    const block = { kind: "cue-on", durationS: 60, stepRateSpm: 180 } as const;
    expect(scheduleOf(session({ ...block, cueShare: 0 })).beatCount).toBe(0);
    expect(scheduleOf(session({ ...block, cueShare: 1 })).beatCount).toBe(180);
  });

  it("the count-in leads up to the block at its own rate, and a lead-in makes room for it at the start", () => {
    const schedule = scheduleOf(session({ kind: "cue-on", durationS: 30, stepRateSpm: 160 }), { countInBeats: 4 });
    expect(schedule.leadInS).toBe(1.5);
    const [first, second, , fourth, opening] = steps(schedule);
    expect(first).toMatchObject({ kind: "count-in", timeS: 0, voice: "left", accent: false });
    expect(second!.timeS).toBe(0.375);
    expect(fourth).toMatchObject({ kind: "count-in", timeS: 1.125, voice: "right" });
    expect(opening).toMatchObject({ kind: "click", timeS: 1.5, voice: "left" });
    expect(schedule.beatCount).toBe(80);
  });

  it("a count-in takes only the silence there is, one interval clear of the beat before", () => {
    const events = steps(
      scheduleOf(
        session(
          { kind: "cue-on", durationS: 10, stepRateSpm: 120 },
          { kind: "cue-off", durationS: 2 },
          { kind: "cue-on", durationS: 10, stepRateSpm: 120 },
        ),
        { countInBeats: 8 },
      ),
    );
    const countIn = events.filter(({ kind, blockIndex }) => kind === "count-in" && blockIndex === 2);
    // Lead-in 4 s, silence 14 to 16 s: four intervals, so three beats.
    expect(countIn.map(({ timeS }) => timeS)).toEqual([14.5, 15, 15.5]);
  });

  it("accents fall on every n-th beat of a run, the first included", () => {
    const events = steps(scheduleOf({ stepRateSpm: 180, durationS: 10 }, { accentEvery: 3 }));
    expect(events.every(({ accent }, index) => accent === (index % 3 === 0))).toBe(true);
  });

  it("each block is announced before it starts, in the silence or over the beat, and the end is announced last", () => {
    const schedule = scheduleOf(
      session(
        { kind: "warm-up", durationS: 60 },
        { kind: "cue-on", durationS: 60, stepRateSpm: 170 },
        { kind: "cue-off", durationS: 60 },
      ),
      { announce: true, countInBeats: 4 },
    );
    const announced = [...beatEvents(schedule)].filter((event) => event.kind === "announce");
    expect(announced.map(({ announcement }) => announcement)).toEqual(["warm-up", "cue-on", "cue-off", "end"]);
    const countInStartS = steps(schedule)[0]!.timeS;
    expect(announced[0]!.timeS).toBe(0);
    expect(announced[1]!.timeS).toBeLessThan(countInStartS);
    expect(announced[2]!.timeS).toBeLessThan(schedule.blocks[2]!.startS);
    expect(announced[3]!.timeS).toBe(schedule.durationS);
    expect(schedule.sampleCount).toBeGreaterThan(announced[3]!.sampleIndex);
  });
});

describe("beat events, any session", () => {
  it("property: events are in order, on the nearest sample and inside their block", () => {
    // One expectation per schedule: tens of thousands of them would take longer than the beats.
    const faultOf = (schedule: BeatSchedule, event: BeatEvent, previousS: number): string | undefined => {
      const home = schedule.blocks[event.blockIndex]!;
      if (event.timeS < previousS) return "before the last one";
      if (Math.abs(event.sampleIndex - event.timeS * schedule.sampleRateHz) > 0.5001) return "off its sample";
      if (event.sampleIndex >= schedule.sampleCount) return "beyond the track";
      if (event.kind === "click" && (event.timeS < home.startS - 1e-9 || event.timeS >= home.endS))
        return "outside its block";
      return event.kind === "count-in" && event.timeS >= home.startS ? "a count-in within its block" : undefined;
    };
    fc.assert(
      fc.property(anySchedule, (schedule) => {
        let previousS = 0;
        for (const event of beatEvents(schedule)) {
          const fault = faultOf(schedule, event, previousS);
          if (fault !== undefined) expect.fail(`${fault}: ${JSON.stringify(event)}`);
          previousS = event.timeS;
        }
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it("property: feet alternate and intervals fit the rates within a run; every run begins left, on its start", () => {
    fc.assert(
      fc.property(anySchedule, (schedule) => {
        const runStartsS = schedule.spans
          .filter(({ startS }, index) => index === 0 || toNumber(startS) !== toNumber(schedule.spans[index - 1]!.endS))
          .map(({ startS }) => toNumber(startS));
        const clicks = steps(schedule).filter(({ kind }) => kind === "click");
        let runs = 0;
        for (const [index, click] of clicks.entries()) {
          const before = clicks[index - 1];
          if (click.timeS === runStartsS[runs]) {
            runs += 1;
            expect(click.voice).toBe("left");
          } else {
            const intervalS = click.timeS - before!.timeS;
            const fits = intervalS > 60 / 220 - 1e-9 && intervalS < 60 / 120 + 1e-9;
            if (click.voice === before!.voice || !fits)
              expect.fail(`beat ${index}: ${JSON.stringify([before, click])}`);
          }
        }
        expect(runs).toBe(runStartsS.length);
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it("property: look-ahead windows that meet give every event once, from any starting point", () => {
    fc.assert(
      fc.property(anySchedule, fc.integer({ min: 1, max: 4000 }), (schedule, windowMs) => {
        const cursor = createBeatCursor(schedule);
        const all = [...beatEvents(schedule)];
        const windowS = windowMs / 1000;
        const pieces: BeatEvent[] = [];
        for (let index = 0; index * windowS <= schedule.durationS + 1; index += 1)
          pieces.push(...cursor.between(index * windowS, (index + 1) * windowS));
        expect(pieces).toEqual(all);
        const laterS = schedule.durationS / 3;
        expect([...beatEvents(schedule, laterS)]).toEqual(all.filter(({ timeS }) => timeS >= laterS));
      }),
      { seed: SEED, numRuns: 60 },
    );
  });
});
