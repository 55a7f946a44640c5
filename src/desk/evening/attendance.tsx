// Who is here: one tap each. Marks go through the outbox, so that the list works without a network.
import { useQuery } from "@tanstack/react-query";
import { useMemo, useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { post } from "../data/outbox.ts";
import { attendanceQuery } from "../data/queries.ts";
import { eveningWords } from "../strings/evening.ts";

type Presence = "present" | "absent" | "excused";

export interface PresenceHandle {
  readonly marks: ReadonlyMap<string, Presence>;
  readonly mark: (runnerIds: readonly string[], presence: Presence) => void;
}

/** What the server knows, with this device's own marks on top. */
export function usePresence(groupId: string, on: string): PresenceHandle {
  const known = useQuery(attendanceQuery(groupId, on)).data;
  const [own, setOwn] = useState<ReadonlyMap<string, Presence>>(new Map());
  const marks = useMemo(() => {
    const all = new Map<string, Presence>((known?.marks ?? []).map((one) => [one.runnerId, one.presence]));
    for (const [runnerId, presence] of own) all.set(runnerId, presence);
    return all;
  }, [known, own]);
  return {
    marks,
    mark: (runnerIds, presence) => {
      setOwn((old) => new Map([...old, ...runnerIds.map((id): [string, Presence] => [id, presence])]));
      for (const runnerId of runnerIds)
        void post(`attendance ${groupId} ${on} ${runnerId}`, "attendance", {
          params: { groupId, on },
          body: { marks: [{ runnerId, presence }] },
        });
    },
  };
}

const OPTIONS: readonly Presence[] = ["present", "absent", "excused"];

interface AttendanceProps {
  readonly runners: readonly { readonly id: string; readonly name: string; readonly remote: boolean }[];
  readonly presence: PresenceHandle;
}

export function Attendance({ runners, presence }: AttendanceProps) {
  const local = runners.filter((one) => !one.remote);
  const here = runners.filter((one) => presence.marks.get(one.id) === "present").length;
  const unmarked = local.filter((one) => !presence.marks.has(one.id));
  return (
    <section aria-label={eveningWords.tabs.attendance}>
      <p className="muted">{eveningWords.attendanceLead}</p>
      <div className="row attendance-all">
        <output>
          <strong>{eveningWords.hereCount(here, local.length)}</strong>
        </output>
        <Button
          disabled={unmarked.length === 0}
          onClick={() =>
            presence.mark(
              unmarked.map((one) => one.id),
              "present",
            )
          }
        >
          {eveningWords.everyoneHere}
        </Button>
      </div>
      <ul className="entry-list">
        {[...local, ...runners.filter((one) => one.remote)].map((runner) => (
          <li key={runner.id} className="entry">
            <span className="entry-name">{runner.name}</span>
            <fieldset className="row group presence" aria-label={runner.name}>
              {OPTIONS.map((option) => (
                <Button
                  key={option}
                  aria-pressed={presence.marks.get(runner.id) === option}
                  onClick={() => presence.mark([runner.id], option)}
                >
                  {eveningWords[option]}
                </Button>
              ))}
            </fieldset>
          </li>
        ))}
      </ul>
    </section>
  );
}
