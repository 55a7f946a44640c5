// Templates and drills of a group: those that come along, and the coach's own.
import type { Drill, DrillInput, Practice, Template, TemplateInput } from "../../api/index.ts";
import { checkDrill, type Drill as DrillShape, starterDrills } from "../../engine/session/drill.ts";
import { checkTemplate } from "../../engine/session/check-template.ts";
import { starterTemplates } from "../../engine/session/starter-templates.ts";
import type { SessionTemplate } from "../../engine/session/template.ts";
import { HandOutReader, type PracticePieceRow, type Reading } from "../../store/index.ts";
import type { MemberOf } from "../app/call.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal, unusable } from "../app/refusal.ts";
import { json } from "./present.ts";
import { writeChange } from "./write-change.ts";

export interface KnownPractice {
  readonly templates: readonly SessionTemplate[];
  readonly drills: readonly DrillShape[];
  readonly ownIds: ReadonlySet<string>;
}

/** The recall check is the plan's own and cannot be chosen for a session. */
const starters: readonly SessionTemplate[] = Object.values(starterTemplates).filter(
  (template) => template.id !== starterTemplates.recallCheck.id,
);

export async function readPractice(db: Reading, groupId: string): Promise<KnownPractice> {
  const rows = await new HandOutReader(db).pieces(groupId);
  const own = <T>(kind: PracticePieceRow["kind"]): T[] =>
    rows.filter((row) => row.kind === kind).map((row) => json<T>(row.pieceJson));
  return {
    templates: [...starters, ...own<SessionTemplate>("template")],
    drills: [...starterDrills, ...own<DrillShape>("drill")],
    ownIds: new Set(rows.map((row) => row.id)),
  };
}

/** Throws a Refusal when the group has no such template. */
export function templateOf(practice: KnownPractice | undefined, id: string): SessionTemplate {
  const found = (practice?.templates ?? starters).find((template) => template.id === id);
  if (found === undefined)
    throw unusable("There is no such session template.", [
      {
        code: "unknown-template",
        where: { field: "templateId" },
        got: id,
        expected: "a template of this group",
        remedy: "Choose one from the list.",
      },
    ]);
  return found;
}

export function presentPractice({ templates, drills, ownIds }: KnownPractice): Practice {
  return {
    templates: templates.map((template) => presentTemplate(template, ownIds.has(template.id))),
    drills: drills.map((drill) => presentDrill(drill, ownIds.has(drill.id))),
  };
}

/** The engine's shapes are read-only; the answer's are plain. */
function presentTemplate(template: SessionTemplate, own: boolean): Template {
  return { ...(structuredClone(template) as Omit<Template, "own">), own };
}

function presentDrill(drill: DrillShape, own: boolean): Drill {
  return { ...drill, cautions: [...drill.cautions], own };
}

export async function saveTemplate(deps: Deps, caller: MemberOf, id: string, input: TemplateInput) {
  const practice = await readPractice(deps.store.db, caller.groupId);
  const checked = checkTemplate({ id, ...input } as SessionTemplate, practice.drills);
  if (!checked.ok) throw unusable("This is not a session yet.", checked.problems);
  const changeId = await save(deps, caller, "template", id, checked.value.title, checked.value);
  return { item: presentTemplate(checked.value, true), changeId };
}

export async function saveDrill(deps: Deps, caller: MemberOf, id: string, input: DrillInput) {
  const checked = checkDrill({ id, ...input });
  if (!checked.ok) throw unusable("This is not a drill yet.", checked.problems);
  const changeId = await save(deps, caller, "drill", id, checked.value.name, checked.value);
  return { item: presentDrill(checked.value, true), changeId };
}

async function save(
  deps: Deps,
  caller: MemberOf,
  kind: PracticePieceRow["kind"],
  id: string,
  name: string,
  piece: SessionTemplate | DrillShape,
): Promise<string | null> {
  const { changeId } = await writeChange(deps, caller, `${kind} saved`, async (write) => {
    const there = await new HandOutReader(write.trx).piece(id);
    if (there !== undefined && (there.groupId !== caller.groupId || there.kind !== kind))
      throw new Refusal(409, "id-taken", "That id is in use elsewhere.");
    await write.put("practicePiece", {
      id,
      groupId: caller.groupId,
      kind,
      nameKey: name.toLowerCase(),
      pieceJson: JSON.stringify(piece),
      createdAt: there?.createdAt ?? instant(deps.clock),
    });
  });
  return changeId;
}

export async function removePiece(
  deps: Deps,
  caller: MemberOf,
  kind: PracticePieceRow["kind"],
  id: string,
): Promise<{ changeId: string | null }> {
  const { changeId } = await writeChange(deps, caller, `${kind} removed`, async (write) => {
    const reader = new HandOutReader(write.trx);
    const there = await reader.piece(id);
    if (there === undefined || there.groupId !== caller.groupId || there.kind !== kind) throw notFound(kind);
    if (kind === "drill") {
      const user = (await reader.pieces(caller.groupId)).find(
        (row) => row.kind === "template" && usesDrill(json<SessionTemplate>(row.pieceJson), id),
      );
      if (user !== undefined)
        throw new Refusal(
          409,
          "drill-in-use",
          `The session “${json<SessionTemplate>(user.pieceJson).title}” uses this drill. Take it out there first.`,
        );
    }
    await write.remove("practicePiece", id);
  });
  return { changeId };
}

function usesDrill(template: SessionTemplate, drillId: string): boolean {
  return template.steps
    .flatMap((step) => (step.step === "repeat" ? step.blocks : step.step === "block" ? [step] : []))
    .some((block) => block.drillId === drillId);
}
