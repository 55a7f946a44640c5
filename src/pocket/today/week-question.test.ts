import { describe, expect, test } from "vitest";
import type { RunnerToday } from "../../api/index.ts";
import { weekAt, weekQuestion } from "./week-question.ts";

const plain = {
  startsOn: "2026-03-05",
  painAnswered: false,
  askCalfAchilles: false,
  calfAchillesAnswered: false,
};
const on = (day: string): number => Date.parse(`${day}T12:00:00Z`);
const today = (week: Partial<RunnerToday["week"]>, more: Partial<RunnerToday> = {}): RunnerToday =>
  ({ targetSpm: 164, stopped: false, week: { ...plain, ...week }, ...more }) as RunnerToday;

describe("the week's question", () => {
  test("[D8] pain is asked once a week, and again the week after although the server was not heard", () => {
    expect(weekQuestion(today({}), undefined, on("2026-03-06"))).toBe("pain");
    expect(weekQuestion(today({ painAnswered: true }), undefined, on("2026-03-11"))).toBeUndefined();
    expect(weekQuestion(today({ painAnswered: true }), undefined, on("2026-03-12"))).toBe("pain");
  });

  test("[D8] an answer that this phone has not sent yet counts for its own week only", () => {
    const answered = { weekStartsOn: "2026-03-05", calfAchilles: false };
    expect(weekQuestion(today({}), answered, on("2026-03-06"))).toBeUndefined();
    expect(weekQuestion(today({}), answered, on("2026-03-13"))).toBe("pain");
  });

  test("[T5] a careful runner is asked about calf and Achilles too, also when something else hurt", () => {
    const careful = { askCalfAchilles: true };
    expect(weekQuestion(today(careful), undefined, on("2026-03-06"))).toBe("pain-and-calf");
    expect(weekQuestion(today({ ...careful, painAnswered: true }), undefined, on("2026-03-06"))).toBe("calf");
    const answered = { weekStartsOn: "2026-03-05", calfAchilles: true };
    expect(weekQuestion(today(careful), answered, on("2026-03-06"))).toBeUndefined();
    expect(
      weekQuestion(today({ ...careful, painAnswered: true, calfAchillesAnswered: true }), undefined, on("2026-03-06")),
    ).toBeUndefined();
  });

  test("without a running plan nothing is asked", () => {
    expect(weekQuestion(today({}, { targetSpm: null }), undefined, on("2026-03-06"))).toBeUndefined();
    expect(weekQuestion(today({}, { stopped: true }), undefined, on("2026-03-06"))).toBeUndefined();
  });

  test("closed form: weeks of seven days from the one named", () => {
    expect(weekAt(today({}), on("2026-03-05"))).toBe("2026-03-05");
    expect(weekAt(today({}), on("2026-03-11"))).toBe("2026-03-05");
    expect(weekAt(today({}), on("2026-03-26"))).toBe("2026-03-26");
    expect(weekAt(today({}), on("2026-03-01"))).toBe("2026-03-05");
  });
});
