// The coach's own sessions and drills of their other groups, one press from being used here.
import { useQueries, useQuery } from "@tanstack/react-query";
import type { Group, Practice } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { api, makeId } from "../data/client.ts";
import { practiceQuery } from "../data/coaching-queries.ts";
import { groupsQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { practiceWords as words } from "../strings/hand-outs.ts";
import { type Copies, copiesOfTemplate, copyOfDrill, notHereYet } from "./bring-here.ts";

interface Piece {
  readonly key: string;
  readonly name: string;
  readonly group: Group;
  readonly copies: () => Copies;
}

export function OtherGroups({ groupId, practice }: { readonly groupId: string; readonly practice: Practice }) {
  const groups = (useQuery(groupsQuery(false)).data?.items ?? []).filter(({ id }) => id !== groupId);
  const others = useQueries({ queries: groups.map(({ id }) => practiceQuery(id)) });
  const bring = useSave({
    save: async ({ copies }: Piece) => {
      const { drills, templates } = copies();
      const changeIds: string[] = [];
      const note = (changeId: string | null): void => void (changeId === null || changeIds.push(changeId));
      for (const { id, ...body } of drills)
        note(
          (await api.call("PUT /api/groups/:groupId/drills/:drillId", { params: { groupId, drillId: id }, body }))
            .changeId,
        );
      for (const { id, ...body } of templates)
        note(
          (
            await api.call("PUT /api/groups/:groupId/templates/:templateId", {
              params: { groupId, templateId: id },
              body,
            })
          ).changeId,
        );
      return changeIds;
    },
    groupId,
    changeId: (changeIds) => changeIds,
    said: (_, { name }) => words.brought(name),
  });
  const pieces = groups.flatMap((group, index) => {
    const other = others[index]?.data;
    return other === undefined ? [] : piecesOf(group, other, practice);
  });
  if (pieces.length === 0) return null;
  return (
    <section>
      <h2>{words.elsewhere}</h2>
      <p className="muted">{words.elsewhereLead}</p>
      <ul className="plain-list">
        {pieces.map((piece) => (
          <li key={piece.key} className="piece">
            <div>
              <strong>{piece.name}</strong> <span className="muted small">{piece.group.name}</span>
            </div>
            <Button
              aria-label={words.bringOf(piece.name, piece.group.name)}
              disabled={bring.isPending}
              onClick={() => bring.mutate(piece)}
            >
              {words.bring}
            </Button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function piecesOf(group: Group, other: Practice, here: Practice): Piece[] {
  const { templates, drills } = notHereYet(other, here);
  return [
    ...templates.map((one) => ({
      key: one.id,
      name: one.title,
      group,
      copies: () => copiesOfTemplate(one, other, here, makeId),
    })),
    ...drills.map((drill) => ({
      key: drill.id,
      name: drill.name,
      group,
      copies: () => copyOfDrill(drill, makeId),
    })),
  ];
}
