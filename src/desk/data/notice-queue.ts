/** A short message at the foot of the screen: what was done, and the way back. */
export interface Notice {
  readonly key: number;
  readonly text: string;
  readonly undo?: () => void;
  /** A failure stays until it is dismissed. */
  readonly failed?: boolean;
}

const SHOWN = 3;

/**
 * The notices after one more: the latest few, oldest first. Only the latest change keeps its way back: with two
 * "Undo" side by side a quick hand takes back the wrong one, and an older change is still undone from its history.
 */
export function withNotice(all: readonly Notice[], notice: Notice): readonly Notice[] {
  const older = notice.undo ? all.map(({ undo: _, ...rest }) => rest) : all;
  return [...older.slice(1 - SHOWN), notice];
}
