import type { RefObject } from "react";
import { Dialog, OverlayArrow, Popover } from "react-aria-components";
import { type HelpTopic, helpTopics } from "../strings/help.ts";

interface HelpPopoverProps {
  readonly topic: HelpTopic;
  readonly mark: RefObject<HTMLElement | null>;
  readonly onClose: () => void;
}

export function HelpPopover({ topic, mark, onClose }: HelpPopoverProps) {
  const entry = helpTopics[topic];
  return (
    <Popover
      className="popover"
      placement="bottom"
      triggerRef={mark}
      isOpen
      onOpenChange={(open) => {
        if (!open) onClose();
      }}
    >
      <OverlayArrow className="popover-arrow" />
      <Dialog className="popover-body" aria-label={entry.title}>
        <p className="popover-title">{entry.title}</p>
        <p>{entry.text}</p>
        <p className="muted small">{entry.source}</p>
      </Dialog>
    </Popover>
  );
}
