// A question mark beside a number: what it is in two sentences, and where that comes from.
import { Button, Dialog, DialogTrigger, OverlayArrow, Popover } from "react-aria-components";
import { type HelpTopic, helpTopics, helpWords } from "../strings/help.ts";

export function HelpMark({ topic }: { readonly topic: HelpTopic }) {
  const entry = helpTopics[topic];
  return (
    <DialogTrigger>
      <Button className="help-mark" aria-label={helpWords.about(entry.title)}>
        ?
      </Button>
      <Popover className="popover" placement="bottom">
        <OverlayArrow className="popover-arrow" />
        <Dialog className="popover-body" aria-label={entry.title}>
          <p className="popover-title">{entry.title}</p>
          <p>{entry.text}</p>
          <p className="muted small">{entry.source}</p>
        </Dialog>
      </Popover>
    </DialogTrigger>
  );
}
