// A threshold as a coach reads and types it: shares as percent, everything else as it is.
import type { Evidence, Source } from "../../engine/evidence/evidence.ts";
import type { Setting } from "../../engine/target/settings.ts";
import { parseNumber } from "../evening/entry-model.ts";

function isShare(setting: Setting): boolean {
  return setting.unit.startsWith("share");
}

export function unitText(setting: Setting): string {
  if (isShare(setting)) return setting.unit.replace(/^share/, "%");
  return setting.unit === "1" ? "" : setting.unit;
}

/** 0.075 of a share is "7.5"; no dust of binary fractions. */
export function shownValue(setting: Setting, value: number): string {
  return String(Number((isShare(setting) ? value * 100 : value).toFixed(6)));
}

/** From what was typed; undefined when it is no number or out of the setting's range. */
export function typedValue(setting: Setting, text: string): number | undefined {
  const typed = parseNumber(text);
  if (typed === undefined) return undefined;
  const value = isShare(setting) ? Number((typed / 100).toFixed(8)) : typed;
  return value >= setting.low && value <= setting.high ? value : undefined;
}

export function sourceLine(entry: Evidence<unknown> | undefined, kinds: Readonly<Record<string, string>>): string {
  if (!entry) return "";
  const { source } = entry as { readonly source?: Source };
  const kind = kinds[entry.kind] ?? entry.kind;
  return source === undefined ? kind : `${source.authors} ${source.year}; ${kind}`;
}
