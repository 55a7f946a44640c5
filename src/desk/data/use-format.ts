// Numbers as this group's coach reads them.
import { useQuery } from "@tanstack/react-query";
import { useMemo } from "react";
import type { Settings } from "../../api/index.ts";
import { createFormat, type Format, type Reading } from "../../ui/words/format.ts";
import { settingsQuery } from "./queries.ts";

function readingOf(settings: Settings | undefined): Reading {
  return {
    locale:
      (settings === undefined || settings.locale === "" ? undefined : usableLocale(settings.locale)) ??
      navigator.language,
    feet: settings?.feetShown ?? "both",
    speed: settings?.distanceUnit === "mile" ? "min-per-mile" : "min-per-km",
  };
}

export function useFormat(groupId: string): Format {
  const { data } = useQuery(settingsQuery(groupId));
  return useMemo(() => createFormat(readingOf(data)), [data]);
}

/** Outside a group (the list of groups): the browser's own language. */
export function useBrowserFormat(): Format {
  return useMemo(() => createFormat(readingOf(undefined)), []);
}

/** A language tag that the browser understands; a mistyped one must not take the page down. */
function usableLocale(tag: string): string | undefined {
  try {
    return Intl.getCanonicalLocales(tag)[0];
  } catch {
    return undefined;
  }
}
