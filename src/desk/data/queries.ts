// What the screens read. Keys begin with the kind of thing, so that one write can refresh everything it may have moved.
import { queryOptions } from "@tanstack/react-query";
import type { CallInput } from "../../api/index.ts";
import { api } from "./client.ts";

type Query<K extends Parameters<typeof api.call>[0]> = CallInput<K> extends { readonly query?: infer Q } ? Q : never;

export const setupQuery = queryOptions({
  queryKey: ["setup"],
  queryFn: () => api.call("GET /api/setup"),
  staleTime: 60_000,
});

export const sessionQuery = queryOptions({
  queryKey: ["session"],
  queryFn: () => api.call("GET /api/session"),
  staleTime: 60_000,
});

export const groupsQuery = (archived: boolean) =>
  queryOptions({
    queryKey: ["groups", archived],
    queryFn: () => api.call("GET /api/groups", { query: { limit: 200, archived } }),
  });

export const groupQuery = (groupId: string) =>
  queryOptions({
    queryKey: ["group", groupId],
    queryFn: () => api.call("GET /api/groups/:groupId", { params: { groupId } }),
  });

export const settingsQuery = (groupId: string) =>
  queryOptions({
    queryKey: ["settings", groupId],
    queryFn: () => api.call("GET /api/groups/:groupId/settings", { params: { groupId } }),
    staleTime: 60_000,
  });

export type RosterFilter = Query<"GET /api/groups/:groupId/roster">;

export const rosterQuery = (groupId: string, filter: RosterFilter = {}) =>
  queryOptions({
    queryKey: ["roster", groupId, filter],
    queryFn: () =>
      api.call("GET /api/groups/:groupId/roster", { params: { groupId }, query: { limit: 500, ...filter } }),
    // What the server reckons in the background arrives without a reload.
    refetchInterval: 20_000,
  });

export const weekQuery = (groupId: string, on: string | undefined) =>
  queryOptions({
    queryKey: ["week", groupId, on],
    queryFn: () =>
      api.call("GET /api/groups/:groupId/week", {
        params: { groupId },
        query: on === undefined ? { limit: 500 } : { limit: 500, on },
      }),
  });

export type LaneFilter = Query<"GET /api/groups/:groupId/lanes">;

export const lanesQuery = (groupId: string, filter: LaneFilter) =>
  queryOptions({
    queryKey: ["lanes", groupId, filter],
    queryFn: () => api.call("GET /api/groups/:groupId/lanes", { params: { groupId }, query: filter ?? {} }),
  });

export const attendanceQuery = (groupId: string, on: string) =>
  queryOptions({
    queryKey: ["attendance", groupId, on],
    queryFn: () => api.call("GET /api/groups/:groupId/evenings/:on/attendance", { params: { groupId, on } }),
  });

export const resultsQuery = (groupId: string) =>
  queryOptions({
    queryKey: ["results", groupId],
    queryFn: () => api.call("GET /api/groups/:groupId/results", { params: { groupId } }),
  });

export const changesQuery = (groupId: string, runnerId?: string) =>
  queryOptions({
    queryKey: ["changes", groupId, runnerId],
    queryFn: () =>
      api.call("GET /api/groups/:groupId/changes", {
        params: { groupId },
        query: runnerId === undefined ? { limit: 50 } : { limit: 50, runnerId },
      }),
  });

export const runnerQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId],
    queryFn: () => api.call("GET /api/runners/:runnerId", { params: { runnerId } }),
  });

/** Everything that hangs on one runner shares this shape: ["runner", id, part]. */
export const countsQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "counts"],
    queryFn: () => api.call("GET /api/runners/:runnerId/counts", { params: { runnerId }, query: { limit: 200 } }),
  });

export const baselineQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "baseline"],
    queryFn: () => api.call("GET /api/runners/:runnerId/baseline", { params: { runnerId } }),
  });

export const proposalQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "proposal"],
    queryFn: () => api.call("GET /api/runners/:runnerId/proposal", { params: { runnerId } }),
  });

export const planQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "plan"],
    queryFn: () => api.call("GET /api/runners/:runnerId/plan", { params: { runnerId } }),
  });

export const protocolsQuery = queryOptions({
  queryKey: ["protocols"],
  queryFn: () => api.call("GET /api/protocols"),
  staleTime: Number.POSITIVE_INFINITY,
});

export const recordingsQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "recordings"],
    queryFn: () =>
      api.call("GET /api/runners/:runnerId/recordings", {
        params: { runnerId },
        query: { limit: 300, withExcluded: true },
      }),
    // Something still being analysed will change by itself.
    refetchInterval: (query) =>
      query.state.data?.items.some((one) => one.state === "waiting") === true ? 1500 : false,
  });

export const recordingQuery = (runnerId: string, recordingId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "recording", recordingId],
    queryFn: () =>
      api.call("GET /api/runners/:runnerId/recordings/:recordingId", {
        params: { runnerId, recordingId },
        query: { maxPoints: 12_000 },
      }),
  });

export const comparisonQuery = (runnerId: string, atSpeedMps?: number) =>
  queryOptions({
    queryKey: ["runner", runnerId, "comparison", atSpeedMps],
    queryFn: () =>
      api.call("GET /api/runners/:runnerId/comparison", {
        params: { runnerId },
        query: atSpeedMps === undefined ? {} : { atSpeedMps },
      }),
  });

export const runsQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "runs"],
    queryFn: () => api.call("GET /api/runners/:runnerId/runs", { params: { runnerId } }),
  });

export const linksQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "links"],
    queryFn: () => api.call("GET /api/runners/:runnerId/links", { params: { runnerId } }),
  });

export const painQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "pain"],
    queryFn: () => api.call("GET /api/runners/:runnerId/pain", { params: { runnerId }, query: { limit: 200 } }),
  });

export const formNotesQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "form-notes"],
    queryFn: () => api.call("GET /api/runners/:runnerId/form-notes", { params: { runnerId }, query: { limit: 200 } }),
  });

export const reportsQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "reports"],
    queryFn: () => api.call("GET /api/runners/:runnerId/reports", { params: { runnerId }, query: { limit: 200 } }),
  });

export const videoQuery = (runnerId: string) =>
  queryOptions({
    queryKey: ["runner", runnerId, "video"],
    queryFn: () =>
      api.call("GET /api/runners/:runnerId/video-measures", { params: { runnerId }, query: { limit: 100 } }),
  });

export const accountsQuery = queryOptions({ queryKey: ["accounts"], queryFn: () => api.call("GET /api/accounts") });

export const membersQuery = (groupId: string) =>
  queryOptions({
    queryKey: ["members", groupId],
    queryFn: () => api.call("GET /api/groups/:groupId/members", { params: { groupId } }),
  });
