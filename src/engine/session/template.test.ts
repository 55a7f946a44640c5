import { describe, expect, it } from "vitest";
import { checkDrill, type Drill, starterDrills } from "./drill.ts";
import { checkTemplate } from "./check-template.ts";
import { starterTemplates } from "./starter-templates.ts";
import type { SessionTemplate, TemplateStep } from "./template.ts";

const withSteps = (...steps: TemplateStep[]): SessionTemplate => ({ id: "own", title: "Our hills", steps });
const codes = (template: SessionTemplate): string[] => {
  const result = checkTemplate(template, starterDrills);
  return result.ok ? [] : result.problems.map((problem) => problem.code);
};

describe("a coach's template", () => {
  it("those that come along are sound", () => {
    for (const template of Object.values(starterTemplates)) expect(codes(template), template.id).toEqual([]);
  });

  it.each([
    ["no steps", withSteps(), ["template-length"]],
    ["two main parts", withSteps({ step: "main" }, { step: "main" }), ["template-two-mains"]],
    [
      "neither time nor distance",
      withSteps({ step: "block", kind: "cue-off", beat: "none" }),
      ["block-length-unclear"],
    ],
    [
      "both",
      withSteps({ step: "block", kind: "cue-off", beat: "none", durationS: 60, distanceM: 200 }),
      ["block-length-unclear"],
    ],
    ["no time", withSteps({ step: "block", kind: "cue-off", beat: "none", durationS: 0 }), ["block-duration"]],
    [
      "not a number",
      withSteps({ step: "block", kind: "cue-off", beat: "none", durationS: Number.NaN }),
      ["block-duration"],
    ],
    ["too far", withSteps({ step: "block", kind: "cue-off", beat: "none", distanceM: 60_000 }), ["block-distance"]],
    [
      "travelling on the spot",
      withSteps({ step: "block", kind: "standing-drill", beat: "target", distanceM: 100 }),
      ["standing-drill-distance"],
    ],
    ["a silent beat", withSteps({ step: "block", kind: "cue-on", beat: "none", durationS: 60 }), ["cue-on-silent"]],
    [
      "a sounding silence",
      withSteps({ step: "block", kind: "cue-off", beat: "target", durationS: 60 }),
      ["cue-off-sounds"],
    ],
    [
      "an unknown drill",
      withSteps({ step: "block", kind: "drill", beat: "none", durationS: 60, drillId: "moonwalk" }),
      ["unknown-drill"],
    ],
    [
      "a drill without one",
      withSteps({ step: "block", kind: "drill", beat: "none", durationS: 60 }),
      ["drill-missing"],
    ],
    [
      "half a repeat",
      withSteps({ step: "repeat", times: 1.5, blocks: [] }),
      ["template-repeats", "template-empty-repeat"],
    ],
  ] as const)("tells %s", (_name, template, expected) => {
    expect(codes(template)).toEqual(expected);
  });

  it("names the step that has the fault, inside a repeat too", () => {
    const result = checkTemplate(
      withSteps(
        { step: "main" },
        { step: "repeat", times: 2, blocks: [{ step: "block", kind: "cue-on", beat: "none", durationS: 60 }] },
      ),
      starterDrills,
    );
    expect(!result.ok && result.problems[0]!.where).toEqual({ file: "Our hills", row: 2, field: "beat" });
  });

  it("knows the coach's own drills", () => {
    const own: Drill = { ...starterDrills[0]!, id: "wall-lean" };
    const template = withSteps({ step: "block", kind: "drill", beat: "none", durationS: 60, drillId: "wall-lean" });
    expect(checkTemplate(template, [own]).ok).toBe(true);
    expect(checkTemplate(template, starterDrills).ok).toBe(false);
  });
});

describe("drills", () => {
  it("the starter set is sound, and each says when to stop", () => {
    expect(starterDrills.map((drill) => drill.id)).toEqual([
      "standing-beat",
      "quick-feet",
      "soft-landing",
      "posture-reset",
      "arm-rhythm",
    ]);
    for (const drill of starterDrills) {
      expect(checkDrill(drill).ok, drill.id).toBe(true);
      expect(drill.cautions.join(" "), drill.id).toContain("Stop if anything hurts");
    }
  });

  it("a coach's own tells all its faults", () => {
    const result = checkDrill({
      id: "Wall Lean",
      name: " ",
      howTo: "",
      minutes: 0,
      whatToFeel: "",
      cautions: [],
      standing: true,
    });
    expect(!result.ok && result.problems.map((problem) => problem.code)).toEqual([
      "drill-id",
      "drill-name",
      "drill-howto",
      "drill-minutes",
      "drill-cautions",
    ]);
  });
});
