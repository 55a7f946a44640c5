import { useQueryClient } from "@tanstack/react-query";
import { useEffect } from "react";
import { onStored } from "../data/outbox.ts";

/** What went through the outbox appears on the page as soon as the server has it. */
export function useRefreshWhenStored(runnerId: string): void {
  const queries = useQueryClient();
  useEffect(
    () => onStored(() => void queries.invalidateQueries({ queryKey: ["runner", runnerId] })),
    [queries, runnerId],
  );
}
