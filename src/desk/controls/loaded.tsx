// One way to wait for data and to say that it did not come.
import type { UseQueryResult } from "@tanstack/react-query";
import type { ReactNode } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { isOffline, sentencesOf, statusOf } from "../data/problems.ts";
import { commonWords } from "../strings/common.ts";

export interface LoadedProps<T> {
  readonly query: UseQueryResult<T>;
  readonly children: (data: T) => ReactNode;
}

/** Old data stays on the screen while it is refreshed, and when the server has gone. */
export function Loaded<T>({ query, children }: LoadedProps<T>) {
  if (query.data !== undefined) return <>{children(query.data)}</>;
  if (query.error) {
    return (
      <div role="alert" className="notice">
        {statusOf(query.error) === 404 ? (
          <p>{commonWords.notFound}</p>
        ) : (
          sentencesOf(query.error).map((sentence) => <p key={sentence}>{sentence}</p>)
        )}
        {(isOffline(query.error) || statusOf(query.error) !== 404) && (
          <Button onClick={() => void query.refetch()}>{commonWords.tryAgain}</Button>
        )}
      </div>
    );
  }
  return (
    <p className="muted" aria-busy="true">
      {commonWords.loading}
    </p>
  );
}
