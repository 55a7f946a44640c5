// Sessions before they have a runner, and the drills in them.
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import type { Drill, Practice, Template } from "../../api/index.ts";
import { Button } from "../../ui/controls/button.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api, makeId } from "../data/client.ts";
import { practiceQuery } from "../data/coaching-queries.ts";
import { useSave } from "../data/use-save.ts";
import { useGroupId } from "../shell/group-layout.tsx";
import { Page } from "../shell/header.tsx";
import { practiceWords as words } from "../strings/hand-outs.ts";
import { DrillForm } from "./drill-form.tsx";
import { OtherGroups } from "./other-groups.tsx";
import "./practice.css";
import { sayStep } from "./say-step.ts";
import { TemplateForm } from "./template-form.tsx";

const EMPTY_DRILL = {
  name: "",
  howTo: "",
  minutes: 1,
  whatToFeel: "",
  cautions: ["Stop if anything hurts."],
  standing: false,
};

export function PracticePage() {
  const groupId = useGroupId();
  const practice = useQuery(practiceQuery(groupId));
  return (
    <Page>
      <h1>{words.title}</h1>
      <p className="muted">{words.lead}</p>
      <Loaded query={practice}>{(data) => <Lists groupId={groupId} practice={data} />}</Loaded>
    </Page>
  );
}

function Lists({ groupId, practice }: { readonly groupId: string; readonly practice: Practice }) {
  const [template, setTemplate] = useState<Pick<Template, "id" | "title" | "steps">>();
  const [drill, setDrill] = useState<Omit<Drill, "own">>();
  const remove = useSave({
    save: (piece: { readonly kind: "template" | "drill"; readonly id: string; readonly name: string }) =>
      piece.kind === "template"
        ? api.call("DELETE /api/groups/:groupId/templates/:templateId", { params: { groupId, templateId: piece.id } })
        : api.call("DELETE /api/groups/:groupId/drills/:drillId", { params: { groupId, drillId: piece.id } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (_, piece) => words.removed(piece.name),
  });
  return (
    <>
      <section>
        <div className="section-head piece-head">
          <h2>{words.templates}</h2>
          <Button
            kind="go"
            onClick={() =>
              setTemplate({
                id: makeId(),
                title: "",
                steps: practice.templates[0]?.steps ?? [{ step: "main" }],
              })
            }
          >
            {words.newTemplate}
          </Button>
        </div>
        <ul className="plain-list">
          {practice.templates.map((one) => (
            <li key={one.id} className="piece">
              <div>
                <strong>{one.title}</strong> {one.own && <span className="muted small">{words.own}</span>}
                <p className="muted small">{one.steps.map((step) => sayStep(step, practice.drills)).join(" · ")}</p>
              </div>
              <PieceButtons
                name={one.title}
                own={one.own}
                busy={remove.isPending}
                onEdit={() => setTemplate(one)}
                onCopy={() => setTemplate({ id: makeId(), title: words.copyName(one.title), steps: one.steps })}
                onRemove={() => remove.mutate({ kind: "template", id: one.id, name: one.title })}
              />
            </li>
          ))}
        </ul>
      </section>
      <section>
        <div className="section-head piece-head">
          <h2>{words.drills}</h2>
          <Button onClick={() => setDrill({ id: makeId(), ...EMPTY_DRILL })}>{words.newDrill}</Button>
        </div>
        <ul className="plain-list">
          {practice.drills.map((one) => (
            <li key={one.id} className="piece">
              <div>
                <strong>{one.name}</strong>{" "}
                <span className="muted small">
                  {words.about(String(one.minutes))}
                  {one.standing && `, ${words.standing.toLowerCase()}`}
                  {one.own && `, ${words.own}`}
                </span>
                <p>{one.howTo}</p>
                <p className="muted small">
                  {words.feelIs(one.whatToFeel)} {one.cautions.join(" ")}
                </p>
              </div>
              <PieceButtons
                name={one.name}
                own={one.own}
                busy={remove.isPending}
                onEdit={() => setDrill(one)}
                onCopy={() => setDrill({ ...one, id: makeId(), name: words.copyName(one.name) })}
                onRemove={() => remove.mutate({ kind: "drill", id: one.id, name: one.name })}
              />
            </li>
          ))}
        </ul>
      </section>
      <OtherGroups groupId={groupId} practice={practice} />
      {template && (
        <TemplateForm
          groupId={groupId}
          practice={practice}
          template={template}
          onClose={() => setTemplate(undefined)}
        />
      )}
      {drill && <DrillForm groupId={groupId} drill={drill} onClose={() => setDrill(undefined)} />}
    </>
  );
}

interface PieceButtonsProps {
  readonly name: string;
  readonly own: boolean;
  readonly busy: boolean;
  readonly onEdit: () => void;
  readonly onCopy: () => void;
  readonly onRemove: () => void;
}

function PieceButtons({ name, own, busy, onEdit, onCopy, onRemove }: PieceButtonsProps) {
  return (
    <div className="row no-print">
      {own && (
        <Button aria-label={words.editOf(name)} onClick={onEdit}>
          {words.edit}
        </Button>
      )}
      <Button aria-label={words.copyOf(name)} onClick={onCopy}>
        {words.copy}
      </Button>
      {own && (
        <Button kind="quiet" aria-label={words.removeOf(name)} disabled={busy} onClick={onRemove}>
          {words.remove}
        </Button>
      )}
    </div>
  );
}
