// The week in plain words for each runner: to copy, or by mail.
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import type { Format } from "../../ui/words/format.ts";
import { Loaded } from "../controls/loaded.tsx";
import { messagesQuery } from "../data/coaching-queries.ts";
import { useNotices } from "../data/notices.tsx";
import { handOutWords } from "../strings/hand-outs.ts";
import { MailPart } from "./mail-part.tsx";

const words = handOutWords.messages;

interface PartProps {
  readonly groupId: string;
  readonly format: Format;
  readonly coach: boolean;
}

export function MessagesPart({ groupId, format, coach }: PartProps) {
  const [week, setWeek] = useState<string>();
  const messages = useQuery({ ...messagesQuery(groupId, week), placeholderData: (old) => old });
  const notices = useNotices();
  return (
    <section>
      <h2 className="section-head">{words.heading}</h2>
      <Loaded query={messages}>
        {(data) =>
          data.items.length === 0 ? (
            <p className="empty">{words.none}</p>
          ) : (
            <>
              <div className="narrow">
                <TextField
                  label={words.week}
                  type="date"
                  value={data.weekOn}
                  onChange={(event) => event.target.value !== "" && setWeek(event.target.value)}
                />
              </div>
              <ul className="plain-list messages">
                {data.items.map((message) => (
                  <li key={message.runnerId} className="message">
                    <details>
                      <summary>{message.name}</summary>
                      <pre className="message-text">{message.text}</pre>
                    </details>
                    <Button
                      aria-label={words.copyOf(message.name)}
                      onClick={() => {
                        navigator.clipboard
                          .writeText(message.text)
                          .then(() => notices.say(words.copied(message.name)))
                          .catch(() => notices.warn(words.noClipboard));
                      }}
                    >
                      {words.copy}
                    </Button>
                  </li>
                ))}
              </ul>
              {coach && <MailPart key={data.weekOn} groupId={groupId} format={format} messages={data} />}
            </>
          )
        }
      </Loaded>
    </section>
  );
}
