import type { ReactNode, RefObject } from "react";
import { Menu, MenuItem, Popover } from "react-aria-components";

export interface Action {
  readonly id: string;
  readonly text: ReactNode;
  /** For type-ahead and screen readers when `text` is more than a string. */
  readonly plainText?: string;
  readonly act: () => void;
}

interface MenuPopoverProps {
  readonly label: string;
  readonly actions: readonly Action[];
  readonly opener: RefObject<HTMLElement | null>;
  readonly onClose: () => void;
}

export function MenuPopover({ label, actions, opener, onClose }: MenuPopoverProps) {
  return (
    <Popover
      className="popover popover-menu"
      placement="bottom end"
      triggerRef={opener}
      isOpen
      onOpenChange={(open) => {
        if (!open) onClose();
      }}
    >
      <Menu
        className="menu"
        aria-label={label}
        // The menu was asked for: keys go into it, as into every menu.
        // oxlint-disable-next-line jsx-a11y/no-autofocus
        autoFocus="first"
        onClose={onClose}
        onAction={(key) => actions.find((one) => one.id === key)?.act()}
      >
        {actions.map((one) => (
          <MenuItem
            key={one.id}
            id={one.id}
            className="menu-item"
            textValue={one.plainText ?? (typeof one.text === "string" ? one.text : one.id)}
          >
            {one.text}
          </MenuItem>
        ))}
      </Menu>
    </Popover>
  );
}
