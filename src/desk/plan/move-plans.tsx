// The group's dates changed: take the running plans along, as one change that can be undone.
import { Button } from "../../ui/controls/button.tsx";
import { api } from "../data/client.ts";
import { useSave } from "../data/use-save.ts";
import { planWords as words } from "../strings/plan.ts";

export function MovePlans({ groupId }: { readonly groupId: string }) {
  const move = useSave({
    save: () => api.call("PUT /api/groups/:groupId/plans/calendar", { params: { groupId } }),
    groupId,
    changeId: (answer) => answer.changeId,
    said: (answer) =>
      [
        words.groupCalendarSaid(answer.changed.length, answer.skipped.length),
        ...answer.skipped.map((one) => `${one.name}: ${one.because}`),
      ].join(" "),
  });
  return (
    <div className="inner-form">
      <p className="muted small">{words.groupCalendarLead}</p>
      <Button disabled={move.isPending} onClick={() => move.mutate(undefined)}>
        {words.groupCalendar}
      </Button>
    </div>
  );
}
