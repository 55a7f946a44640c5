// A button that opens a short list of actions.
import type { ReactNode } from "react";
import { Button, Menu, MenuItem, MenuTrigger, Popover } from "react-aria-components";

export interface Action {
  readonly id: string;
  readonly text: ReactNode;
  /** For type-ahead and screen readers when `text` is more than a string. */
  readonly plainText?: string;
  readonly act: () => void;
}

export function ActionMenu({
  label,
  children,
  actions,
}: {
  readonly label: string;
  readonly children?: ReactNode;
  readonly actions: readonly Action[];
}) {
  return (
    <MenuTrigger>
      <Button className="button" aria-label={label}>
        {children ?? label}
      </Button>
      <Popover className="popover popover-menu" placement="bottom end">
        <Menu className="menu" onAction={(key) => actions.find((one) => one.id === key)?.act()}>
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
    </MenuTrigger>
  );
}
