// Everything that happened to one runner, newest first.

export interface TimelineParts<C, R, P, F, E> {
  readonly counts: readonly C[];
  readonly recordings: readonly R[];
  readonly pain: readonly P[];
  readonly forms: readonly F[];
  readonly reports: readonly E[];
}

interface At {
  readonly id: string;
  readonly at: string;
}

export type TimelineEvent<C, R, P, F, E> =
  | { readonly kind: "count"; readonly at: string; readonly item: C }
  | { readonly kind: "recording"; readonly at: string; readonly item: R }
  | { readonly kind: "pain"; readonly at: string; readonly item: P }
  | { readonly kind: "form"; readonly at: string; readonly item: F }
  | { readonly kind: "report"; readonly at: string; readonly item: E };

/** A recording without a clock of its own stands where it was sent. */
export function timelineOf<
  C extends { readonly id: string; readonly measuredAt: string },
  R extends { readonly id: string; readonly startedAt: string | null; readonly uploadedAt: string },
  P extends At,
  F extends At,
  E extends At,
>(parts: TimelineParts<C, R, P, F, E>): readonly TimelineEvent<C, R, P, F, E>[] {
  const events: TimelineEvent<C, R, P, F, E>[] = [
    ...parts.counts.map((item) => ({ kind: "count" as const, at: item.measuredAt, item })),
    ...parts.recordings.map((item) => ({ kind: "recording" as const, at: item.startedAt ?? item.uploadedAt, item })),
    ...parts.pain.map((item) => ({ kind: "pain" as const, at: item.at, item })),
    ...parts.forms.map((item) => ({ kind: "form" as const, at: item.at, item })),
    ...parts.reports.map((item) => ({ kind: "report" as const, at: item.at, item })),
  ];
  return events.toSorted((a, b) => (a.at < b.at ? 1 : a.at > b.at ? -1 : 0));
}
