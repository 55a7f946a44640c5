// How far each message came. An uncertain one goes again only when the coach says so.
import { useQuery } from "@tanstack/react-query";
import { Button } from "../../ui/controls/button.tsx";
import type { Format } from "../../ui/words/format.ts";
import { api } from "../data/client.ts";
import { mailQuery } from "../data/coaching-queries.ts";
import { useSave } from "../data/use-save.ts";
import { handOutWords } from "../strings/hand-outs.ts";

const words = handOutWords.mail;

export function OutboxList({ groupId, format }: { readonly groupId: string; readonly format: Format }) {
  const items = useQuery(mailQuery(groupId)).data?.items ?? [];
  const again = useSave({
    save: (mailId: string) => api.call("POST /api/groups/:groupId/mail/:mailId/again", { params: { groupId, mailId } }),
    said: () => words.againSaid,
  });
  if (items.length === 0) return null;
  return (
    <>
      <h3>{words.outbox}</h3>
      <ul className="plain-list">
        {items.map((item) => (
          <li key={item.id} className="mail-line">
            <span>
              {item.name} <span className="muted small">{item.to}</span>
              <span className="block">
                <strong>{words.status[item.status]}</strong>{" "}
                <span className="muted small">
                  {format.dateTime(item.at)}
                  {item.attempts > 1 && `, ${words.attempts(item.attempts)}`}
                  {item.reason !== "" && `, ${item.reason}`}
                </span>
              </span>
            </span>
            {item.own && (item.status === "failed" || item.status === "uncertain") && (
              <Button
                aria-label={words.againOf(item.name)}
                disabled={again.isPending}
                onClick={() => again.mutate(item.id)}
              >
                {words.again}
              </Button>
            )}
          </li>
        ))}
      </ul>
    </>
  );
}
