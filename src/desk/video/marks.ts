// Marked frames as contacts: each landing with the toe-off that follows it before the next landing.
import type { VideoContact } from "../../engine/steps/video-frames.ts";

/** In the order they are clicked on the frame of contact. */
export const POINT_NAMES = ["hip", "knee", "ankle", "toe"] as const;

export interface Mark {
  readonly kind: "contact" | "toe-off";
  readonly frame: number;
}

/** Whole contacts in order; a landing without its toe-off, or the reverse, is left out. */
export function contactsOf(marks: readonly Mark[]): readonly VideoContact[] {
  const inOrder = marks.toSorted((a, b) => a.frame - b.frame);
  return inOrder.flatMap((mark, i) => {
    const next = inOrder[i + 1];
    return mark.kind === "contact" && next?.kind === "toe-off"
      ? [{ landFrame: mark.frame, toeOffFrame: next.frame }]
      : [];
  });
}

/** One mark of a kind per frame: the same again takes it away. */
export function toggleMark(marks: readonly Mark[], mark: Mark): readonly Mark[] {
  const without = marks.filter((one) => one.frame !== mark.frame);
  return marks.some((one) => one.frame === mark.frame && one.kind === mark.kind) ? without : [...without, mark];
}
