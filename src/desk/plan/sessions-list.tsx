// The sessions ahead: each with its card, its beat track and a way to change it.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import type { Plan } from "../../api/index.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import { Button } from "../../ui/controls/button.tsx";
import { api, todayPlain } from "../data/client.ts";
import { settingsQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import type { RunnerPart } from "../runner/part.ts";
import { planWords } from "../strings/plan.ts";
import { runnerWords } from "../strings/runner.ts";
import { SessionDialog } from "./session-dialog.tsx";

const FEW = 4;
const words = runnerWords.plan;
const own = planWords.session;
type Planned = Plan["sessions"][number];

export function SessionsList({ groupId, runner, format, plan }: RunnerPart & { readonly plan: Plan }) {
  const settings = useQuery(settingsQuery(groupId)).data;
  const [all, setAll] = useState(false);
  const [editing, setEditing] = useState<Planned>();
  const today = todayPlain();
  const ahead = plan.sessions.filter((session) => session.on >= today);
  const shown = all ? ahead : ahead.slice(0, FEW);
  const skipped = plan.skippedOn.filter((on) => on >= today);
  const back = useSave({
    save: (on: string) =>
      api.call("PUT /api/runners/:runnerId/plan/sessions/:on", {
        params: { runnerId: runner.id, on },
        body: { reset: true },
      }),
    groupId,
    changeId: (saved) => saved.changeId,
    said: () => own.resetSaid,
  });
  if (ahead.length === 0) return <p className="muted">{words.noneUpcoming}</p>;
  return (
    <>
      <ul className="lines">
        {shown.map((planned) => (
          <li key={planned.id} className="line">
            <span className="line-when">{format.dateShort(planned.on)}</span>
            <span>
              {planned.session.title}{" "}
              <span className="muted small">
                {planned.inPerson ? words.inPerson : words.onOwn}
                {`, ${words.minutes(format.number(planned.cuedMinutes), format.duration(planned.mainMinutes * SECONDS_PER_MINUTE))}`}
                {planned.editedFrom !== null && `, ${own.mark}`}
              </span>
            </span>
            <span className="row no-print">
              <Button
                kind="quiet"
                aria-label={own.editOf(format.dateShort(planned.on))}
                onClick={() => setEditing(planned)}
              >
                {own.edit}
              </Button>
              <Link
                className="button button-quiet"
                aria-label={own.cardOf(format.dateShort(planned.on))}
                to="/g/$groupId/runners/$runnerId/cards"
                params={{ groupId, runnerId: runner.id }}
                search={{ on: planned.on }}
              >
                {own.card}
              </Link>
              <a
                className="button"
                download
                aria-label={`${words.track}, ${format.dateShort(planned.on)}`}
                href={api.address("GET /api/runners/:runnerId/track", {
                  params: { runnerId: runner.id },
                  query: { sessionId: planned.id, ...(settings ? { format: settings.beatTrackFormat } : {}) },
                })}
              >
                {words.track}
              </a>
            </span>
          </li>
        ))}
      </ul>
      {skipped.length > 0 && (
        <p className="small no-print">
          <span className="muted">{own.skippedOn}: </span>
          {skipped.map((on) => (
            <Button key={on} kind="quiet" disabled={back.isPending} onClick={() => back.mutate(on)}>
              {own.putBack(format.dateShort(on))}
            </Button>
          ))}
        </p>
      )}
      <div className="row no-print">
        {ahead.length > FEW && (
          <Button kind="quiet" onClick={() => setAll(!all)}>
            {all ? own.showFew : own.showAll(ahead.length)}
          </Button>
        )}
        <Link to="/g/$groupId/runners/$runnerId/cards" params={{ groupId, runnerId: runner.id }} search={{}}>
          {own.cards}
        </Link>
      </div>
      {editing && (
        <SessionDialog
          groupId={groupId}
          runnerId={runner.id}
          plan={plan}
          planned={editing}
          format={format}
          onClose={() => setEditing(undefined)}
        />
      )}
    </>
  );
}
