import { describe, expect, it } from "vitest";
import type { TemplateInput } from "../../api/index.ts";
import { starterTemplates } from "../../engine/session/starter-templates.ts";
import { moved, newRow, rowsOf, stepsOf } from "./template-model.ts";

describe("a template as rows", () => {
  it.each(Object.values(starterTemplates).map((template) => [template.title, template] as const))(
    "%s: to rows and back is the same",
    (_title, template) => {
      const steps = template.steps as unknown as TemplateInput["steps"];
      expect(stepsOf(rowsOf({ steps }))).toEqual(steps);
    },
  );

  it("neighbours with the same times share a repeat; another number begins another", () => {
    const row = (key: number, times: string) => ({ ...newRow(key), times });
    const steps = stepsOf([row(1, "6"), row(2, "6"), row(3, "4"), row(4, "1")]);
    expect(steps.map((step) => (step.step === "repeat" ? [step.times, step.blocks.length] : step.step))).toEqual([
      [6, 2],
      [4, 1],
      "block",
    ]);
  });

  it("a length that is no number becomes 0, for the server to name", () => {
    expect(stepsOf([{ ...newRow(1), length: "soon" }])).toMatchObject([{ durationS: 0 }]);
    expect(stepsOf([{ ...newRow(1), length: "1,5" }])).toMatchObject([{ durationS: 90 }]);
  });

  it("rows change places, and the ends stay put", () => {
    expect(moved(["a", "b", "c"], 0, 1)).toEqual(["b", "a", "c"]);
    expect(moved(["a", "b", "c"], 0, -1)).toEqual(["a", "b", "c"]);
    expect(moved(["a", "b", "c"], 2, 1)).toEqual(["a", "b", "c"]);
  });
});
