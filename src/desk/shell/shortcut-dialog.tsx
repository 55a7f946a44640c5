import { DeskDialog } from "../controls/dialog.tsx";
import { shellWords } from "../strings/common.ts";
import { ShortcutTable } from "./shortcut-table.tsx";

export function ShortcutDialog({ onClose }: { readonly onClose: () => void }) {
  return (
    <DeskDialog title={shellWords.shortcuts} open onClose={onClose}>
      <ShortcutTable />
    </DeskDialog>
  );
}
