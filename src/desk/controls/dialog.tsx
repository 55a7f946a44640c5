// A dialog over the page: focus goes in, stays in, and comes back to where it was.
import type { ReactNode } from "react";
import { Dialog, Heading, Modal, ModalOverlay } from "react-aria-components";

export interface DeskDialogProps {
  readonly title: string;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
  readonly wide?: boolean;
}

export function DeskDialog({ title, open, onClose, children, wide }: DeskDialogProps) {
  return (
    <ModalOverlay isOpen={open} onOpenChange={(next) => !next && onClose()} isDismissable className="overlay">
      <Modal className={wide === true ? "modal modal-wide" : "modal"}>
        <Dialog className="dialog">
          <Heading slot="title" level={2} className="dialog-title">
            {title}
          </Heading>
          {children}
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
