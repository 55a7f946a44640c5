import { describe, expect, test } from "vitest";
import { createPhoneClock } from "./phone-clock.ts";

const HOUR = 3_600_000;

function clockAt(wall: number) {
  const phone = { wall, steady: 5 };
  const clock = createPhoneClock({ wallMs: () => phone.wall, steadyMs: () => phone.steady });
  const pass = (ms: number, asleep = false): void => {
    phone.wall += ms;
    if (!asleep) phone.steady += ms;
  };
  return { phone, clock, pass };
}

describe("the phone's clock", () => {
  test("closed form: before the server is heard it is what the phone says", () => {
    expect(clockAt(1000).clock.nowMs()).toBe(1000);
  });

  test("closed form: a clock that is a day late is corrected, asleep or not", () => {
    const { clock, pass } = clockAt(0);
    clock.told(24 * HOUR);
    pass(HOUR);
    expect(clock.nowMs()).toBe(25 * HOUR);
    pass(HOUR, true);
    expect(clock.nowMs()).toBe(26 * HOUR);
  });

  test("a clock that is set back goes on from the last time told", () => {
    const { phone, clock, pass } = clockAt(100 * HOUR);
    clock.told(100 * HOUR);
    pass(HOUR);
    phone.wall = 0;
    expect(clock.nowMs()).toBe(101 * HOUR);
    pass(2 * HOUR);
    expect(clock.nowMs()).toBe(103 * HOUR);
    clock.told(103 * HOUR);
    pass(HOUR, true);
    expect(clock.nowMs()).toBe(104 * HOUR);
  });

  test("a time that is none is not believed", () => {
    const { clock } = clockAt(7);
    clock.told(Number.NaN);
    expect(clock.nowMs()).toBe(7);
  });
});
