// For the few things that cannot be undone: say what will be lost, and make the hand stop.
import { type ReactNode, useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { TextField } from "../../ui/controls/field.tsx";
import { commonWords } from "../strings/common.ts";
import { DeskDialog } from "./dialog.tsx";

export interface ConfirmProps {
  readonly title: string;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly onConfirm: () => void;
  readonly action: string;
  readonly children: ReactNode;
  /** This must be typed first. */
  readonly typed?: { readonly label: string; readonly text: string };
}

export function Confirm({ title, open, onClose, onConfirm, action, children, typed }: ConfirmProps) {
  const [text, setText] = useState("");
  const ready = typed === undefined || text.trim().toLowerCase() === typed.text.trim().toLowerCase();
  return (
    <DeskDialog title={title} open={open} onClose={onClose}>
      <form
        className="stack"
        onSubmit={(event) => {
          event.preventDefault();
          if (!ready) return;
          setText("");
          onConfirm();
          onClose();
        }}
      >
        <div>{children}</div>
        {typed && (
          <TextField
            label={typed.label}
            value={text}
            autoComplete="off"
            onChange={(event) => setText(event.target.value)}
          />
        )}
        <div className="row">
          <Button type="submit" kind="go" disabled={!ready}>
            {action}
          </Button>
          <Button onClick={onClose}>{commonWords.cancel}</Button>
        </div>
      </form>
    </DeskDialog>
  );
}
