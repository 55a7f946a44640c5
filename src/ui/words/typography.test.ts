import { expect, it } from "vitest";
import { curved } from "./typography.ts";

it("curves apostrophes and pairs of quotes", () => {
  expect(curved("the runner's own, the runners' links")).toBe("the runner’s own, the runners’ links");
  expect(curved('row 2, column "Height (cm)": got "tall".')).toBe("row 2, column “Height (cm)”: got “tall”.");
});

it("leaves feet, inches and plain numbers alone", () => {
  expect(curved("5'9\" or 12:30")).toBe("5'9\" or 12:30");
});
