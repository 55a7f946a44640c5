/** Keys belong to a field, a dialog or a menu while someone is in it. */
export function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    target.closest("input, textarea, select, [contenteditable], [role=dialog], [role=menu]") !== null
  );
}
