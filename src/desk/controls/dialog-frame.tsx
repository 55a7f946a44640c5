import { Dialog, Heading, Modal, ModalOverlay } from "react-aria-components";
import type { ReactNode } from "react";

export interface DialogFrameProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
  readonly wide?: boolean;
}

export function DialogFrame({ title, onClose, children, wide }: DialogFrameProps) {
  return (
    <ModalOverlay isOpen onOpenChange={(next) => !next && onClose()} isDismissable className="overlay">
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
