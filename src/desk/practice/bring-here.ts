// A coach's own templates and drills of one group, copied into another: what has to be written, and in which order.
import type { Drill, Practice, Template } from "../../api/index.ts";

export interface Copies {
  /** Written first: a template may only name drills that are there. */
  readonly drills: readonly Omit<Drill, "own">[];
  readonly templates: readonly Pick<Template, "id" | "title" | "steps">[];
}

const sameName = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();

/** Own pieces of the other group that this one has under no own name yet. */
export function notHereYet(other: Practice, here: Practice): Practice {
  return {
    templates: other.templates.filter(
      (one) => one.own && !here.templates.some((known) => known.own && sameName(known.title, one.title)),
    ),
    drills: other.drills.filter(
      (one) => one.own && !here.drills.some((known) => known.own && sameName(known.name, one.name)),
    ),
  };
}

/** The template under a new id with the own drills that it uses; a drill that is here by name is used as it is here. */
export function copiesOfTemplate(template: Template, other: Practice, here: Practice, makeId: () => string): Copies {
  const drills: Omit<Drill, "own">[] = [];
  const ids = new Map<string, string>();
  const idHere = (drillId: string): string => {
    const drill = other.drills.find((one) => one.id === drillId && one.own);
    if (drill === undefined) return drillId;
    const known = ids.get(drillId) ?? here.drills.find((one) => one.own && sameName(one.name, drill.name))?.id;
    if (known !== undefined) return known;
    const copy = drillUnder(makeId(), drill);
    drills.push(copy);
    ids.set(drillId, copy.id);
    return copy.id;
  };
  const moved = <Block extends { readonly drillId?: string }>(block: Block): Block =>
    block.drillId === undefined ? block : { ...block, drillId: idHere(block.drillId) };
  const steps = template.steps.map((step) =>
    step.step === "repeat" ? { ...step, blocks: step.blocks.map(moved) } : step.step === "block" ? moved(step) : step,
  );
  return { drills, templates: [{ id: makeId(), title: template.title, steps }] };
}

export function copyOfDrill(drill: Drill, makeId: () => string): Copies {
  return { drills: [drillUnder(makeId(), drill)], templates: [] };
}

function drillUnder(id: string, { name, howTo, minutes, whatToFeel, cautions, standing }: Drill): Omit<Drill, "own"> {
  return { id, name, howTo, minutes, whatToFeel, cautions, standing };
}
