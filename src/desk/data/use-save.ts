// Every write of the desk: send it, refresh what may have moved, say what was done, and offer the way back.
import { useMutation, useQueryClient } from "@tanstack/react-query";
import { commonWords } from "../strings/common.ts";
import { api } from "./client.ts";
import { useNotices } from "./notices.tsx";
import { sentencesOf } from "./problems.ts";

export interface SaveOptions<Input, Output> {
  readonly save: (input: Input) => Promise<Output>;
  /** What to say afterwards; nothing for writes that show themselves. */
  readonly said?: (output: Output, input: Input) => string | undefined;
  /** With both, the message carries an undo. */
  readonly groupId?: string | undefined;
  /** What can be undone: one change, or several made by one press. */
  readonly changeId?: (output: Output) => string | null | readonly string[];
  readonly done?: (output: Output, input: Input) => void;
  /** The form shows the problems itself. */
  readonly quietErrors?: boolean;
}

export function useSave<Input, Output>(options: SaveOptions<Input, Output>) {
  const queries = useQueryClient();
  const notices = useNotices();
  const undo = useUndo();
  return useMutation({
    mutationFn: options.save,
    onSuccess: (output, input) => {
      const text = options.said?.(output, input);
      const made = options.changeId?.(output) ?? [];
      const changeIds = typeof made === "string" ? [made] : made;
      const { groupId } = options;
      if (text !== undefined)
        notices.say(
          text,
          groupId !== undefined && changeIds.length > 0 ? () => undo(groupId, ...changeIds) : undefined,
        );
      options.done?.(output, input);
      // Not waited for: what was there stays on the screen until the new answer comes.
      void queries.invalidateQueries();
    },
    onError: (error) => {
      if (options.quietErrors !== true) notices.warn(sentencesOf(error).join(" "));
    },
  });
}

export function useUndo(): (groupId: string, ...changeIds: readonly string[]) => void {
  const queries = useQueryClient();
  const notices = useNotices();
  return (groupId, ...changeIds) => {
    undoAll(groupId, changeIds)
      .then(() => notices.say(commonWords.undone))
      .catch((error: unknown) => notices.warn(sentencesOf(error).join(" ")))
      .finally(() => void queries.invalidateQueries());
  };
}

/** Latest first, so that none stands in the way of another. */
async function undoAll(groupId: string, changeIds: readonly string[]): Promise<void> {
  for (const changeId of changeIds.toReversed())
    await api.call("POST /api/groups/:groupId/changes/:changeId/undo", { params: { groupId, changeId } });
}
