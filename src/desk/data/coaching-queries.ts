// What the screens of plans, practice and hand-outs read.
import { queryOptions } from "@tanstack/react-query";
import type { CallInput } from "../../api/index.ts";
import { api } from "./client.ts";

export const practiceQuery = (groupId: string) =>
  queryOptions({
    queryKey: ["practice", groupId],
    queryFn: () => api.call("GET /api/groups/:groupId/practice", { params: { groupId } }),
  });

export const speechQuery = queryOptions({
  queryKey: ["speech"],
  queryFn: () => api.call("GET /api/speech"),
  staleTime: Number.POSITIVE_INFINITY,
});

export const sheetQuery = (
  groupId: string,
  filter: NonNullable<CallInput<"GET /api/groups/:groupId/sheet">["query"]>,
) =>
  queryOptions({
    queryKey: ["sheet", groupId, filter],
    queryFn: () => api.call("GET /api/groups/:groupId/sheet", { params: { groupId }, query: filter }),
  });

export const messagesQuery = (groupId: string, weekOn: string | undefined) =>
  queryOptions({
    queryKey: ["messages", groupId, weekOn],
    queryFn: () =>
      api.call("GET /api/groups/:groupId/messages", {
        params: { groupId },
        query: weekOn === undefined ? {} : { weekOn },
      }),
  });

export const feedsQuery = (groupId: string) =>
  queryOptions({
    queryKey: ["feeds", groupId],
    queryFn: () => api.call("GET /api/groups/:groupId/feeds", { params: { groupId } }),
  });

export const mailServerQuery = queryOptions({
  queryKey: ["mail-server"],
  queryFn: () => api.call("GET /api/mail/server"),
});

const UNDER_WAY = new Set(["queued", "sending"]);

export const mailQuery = (groupId: string) =>
  queryOptions({
    queryKey: ["mail", groupId],
    queryFn: () => api.call("GET /api/groups/:groupId/mail", { params: { groupId } }),
    // What is under way will change by itself.
    refetchInterval: (query) =>
      query.state.data?.items.some((one) => UNDER_WAY.has(one.status)) === true ? 2000 : false,
  });

export const trackProgressQuery = (groupId: string, progressId: string) =>
  queryOptions({
    queryKey: ["track-progress", groupId, progressId],
    queryFn: () =>
      api.call("GET /api/groups/:groupId/tracks-progress/:progressId", { params: { groupId, progressId } }),
    refetchInterval: (query) => {
      const { data } = query.state;
      return data?.known === true && data.tracksDone === data.trackCount ? false : 700;
    },
  });
