import { Type } from "typebox";
import { pageOf, PageQuery } from "../schemas/common.ts";
import * as operations from "../schemas/operations.ts";
import { defineRoutes } from "./contract.ts";
import { Bytes } from "./params.ts";

const tag = "Operations";

export const operationRoutes = defineRoutes({
  "GET /api/health": { summary: "Is the process alive", tag, access: "public", response: operations.Health },
  "GET /api/ready": {
    summary: "Can it serve: database reachable, migrations done",
    tag,
    access: "public",
    response: operations.Ready,
  },
  "GET /api/metrics": {
    summary: "Metrics in the OpenMetrics text format",
    description: "For the owner, or for a scraper with the metrics token.",
    tag,
    access: "owner",
    response: Bytes,
    produces: ["application/openmetrics-text"],
  },
  "GET /api/audit": {
    summary: "Who did what that matters: sign-ins, deletions, exports, links",
    tag,
    access: "owner",
    query: Type.Object(PageQuery),
    response: pageOf(operations.AuditEntry),
  },
  "POST /api/backups": {
    summary: "Make a backup now",
    tag,
    access: "owner",
    response: operations.BackupMade,
  },
  "GET /api/backups": {
    summary: "Backups in the data folder",
    tag,
    access: "owner",
    response: Type.Object({ items: Type.Array(operations.BackupMade) }),
  },
});
