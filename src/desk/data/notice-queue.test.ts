import { expect, test } from "vitest";
import { type Notice, withNotice } from "./notice-queue.ts";

const notice = (key: number, undo?: () => void): Notice => ({ key, text: `done ${key}`, ...(undo && { undo }) });
const after = (...notices: readonly Notice[]) => notices.reduce<readonly Notice[]>(withNotice, []);

test("only the latest change offers its way back", () => {
  const shown = after(
    notice(1, () => undefined),
    notice(2, () => undefined),
  );
  expect(shown.map((one) => [one.key, one.undo !== undefined])).toEqual([
    [1, false],
    [2, true],
  ]);
});

test("a message without a way back leaves the last change's in place", () => {
  const shown = after(
    notice(1, () => undefined),
    notice(2),
  );
  expect(shown[0]?.undo).toBeDefined();
});

test("the three latest are shown, the oldest first", () => {
  expect(after(notice(1), notice(2), notice(3), notice(4)).map((one) => one.key)).toEqual([2, 3, 4]);
});
