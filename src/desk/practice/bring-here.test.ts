import { describe, expect, it } from "vitest";
import type { Drill, Practice, Template } from "../../api/index.ts";
import { copiesOfTemplate, notHereYet } from "./bring-here.ts";

const drill = (id: string, name: string, own = true): Drill => ({
  id,
  name,
  howTo: "",
  minutes: 1,
  whatToFeel: "",
  cautions: [],
  standing: true,
  own,
});
const use = (drillId: string) => ({ step: "block", kind: "drill", durationS: 60, beat: "none", drillId }) as const;
const template: Template = {
  id: "t-there",
  title: "Own Evening",
  own: true,
  steps: [use("mine"), { step: "repeat", times: 3, blocks: [use("mine"), use("starter")] }, { step: "main" }],
};
const other: Practice = {
  templates: [template],
  drills: [drill("starter", "Quick feet", false), drill("mine", "High hops")],
};
const here: Practice = { templates: [], drills: [drill("starter", "Quick feet", false)] };

function ids(): () => string {
  let count = 0;
  return () => `new-${(count += 1)}`;
}

describe("templates of the coach's other groups", () => {
  it("come with the own drills they use, once each, under new ids that the steps name", () => {
    const { drills, templates } = copiesOfTemplate(template, other, here, ids());
    expect(drills).toEqual([expect.objectContaining({ id: "new-1", name: "High hops" })]);
    expect(drills[0]).not.toHaveProperty("own");
    expect(templates).toEqual([
      {
        id: "new-2",
        title: "Own Evening",
        steps: [use("new-1"), { step: "repeat", times: 3, blocks: [use("new-1"), use("starter")] }, { step: "main" }],
      },
    ]);
  });

  it("use a drill of the same name that is here already", () => {
    const known = { ...here, drills: [...here.drills, drill("here-too", "high hops ")] };
    const { drills, templates } = copiesOfTemplate(template, other, known, ids());
    expect(drills).toEqual([]);
    expect(templates[0]?.steps[0]).toEqual(use("here-too"));
  });

  it("are offered until one of that name is here; what comes along is never offered", () => {
    expect(notHereYet(other, here)).toEqual({ templates: [template], drills: [drill("mine", "High hops")] });
    const known: Practice = {
      templates: [{ ...template, id: "x", title: "own evening" }],
      drills: [drill("y", "High hops")],
    };
    expect(notHereYet(other, known)).toEqual({ templates: [], drills: [] });
  });
});
