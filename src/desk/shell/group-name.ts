import { commonWords } from "../strings/common.ts";

/** The demo group always says that it is invented, once. */
export function groupName(group: { readonly name: string; readonly invented: boolean }): string {
  if (!group.invented || group.name.toLowerCase().includes(commonWords.invented)) return group.name;
  return `${group.name} (${commonWords.invented})`;
}
