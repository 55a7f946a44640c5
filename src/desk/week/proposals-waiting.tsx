// That night: what was proposed from the evening's counts, accepted in one press or opened one by one.
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { api } from "../data/client.ts";
import { rosterQuery } from "../data/queries.ts";
import { useSave } from "../data/use-save.ts";
import { FIRST_ROSTER, acceptable } from "../roster/roster-filter.ts";
import { rosterWords } from "../strings/groups.ts";
import { runnerWords } from "../strings/runner.ts";
import { weekWords } from "../strings/week.ts";

export function ProposalsWaiting({ groupId, format }: { readonly groupId: string; readonly format: Format }) {
  const rows = useQuery(rosterQuery(groupId, FIRST_ROSTER)).data?.items ?? [];
  const accept = useSave({
    save: (runnerIds: string[]) =>
      api.call("POST /api/groups/:groupId/proposals", { params: { groupId }, body: { runnerIds } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (answer) => rosterWords.accepted(answer.accepted.length, answer.skipped.length),
  });
  const waiting = acceptable(rows);
  if (waiting.length === 0) return null;
  return (
    <section className="notice proposals no-print" aria-label={runnerWords.proposal.heading}>
      <p>
        <strong>{weekWords.proposals(waiting.length)}</strong> {weekWords.acceptHint} <HelpMark topic="target" />
      </p>
      <ul className="proposals-list">
        {waiting.map(({ runner, baselineSpm, advice }) => (
          <li key={runner.id}>
            <Link to="/g/$groupId/runners/$runnerId" params={{ groupId, runnerId: runner.id }}>
              {runner.name}
            </Link>{" "}
            <span className="muted small">
              {[baselineSpm ? format.rate(baselineSpm.estimate) : "", adviceWord(advice)].filter(Boolean).join(", ")}
            </span>
          </li>
        ))}
      </ul>
      <Button
        kind="go"
        disabled={accept.isPending}
        onClick={() => accept.mutate(waiting.map(({ runner }) => runner.id))}
      >
        {weekWords.acceptAll(waiting.length)}
      </Button>
    </section>
  );
}

function adviceWord(advice: string | null): string {
  return advice === null ? "" : (runnerWords.proposal.advice[advice] ?? advice).toLowerCase();
}
