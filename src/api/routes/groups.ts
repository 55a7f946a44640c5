import { Type } from "typebox";
import * as changes from "../schemas/changes.ts";
import { Changed, pageOf, PageQuery, savedOf } from "../schemas/common.ts";
import { Group, GroupInput } from "../schemas/groups.ts";
import { Attendance, AttendanceInput } from "../schemas/observations.ts";
import { Deleted } from "../schemas/operations.ts";
import { ProgrammeResult } from "../schemas/results.ts";
import * as roster from "../schemas/roster.ts";
import { RosterRow, RosterSort } from "../schemas/runners.ts";
import { Settings, SettingsInput } from "../schemas/settings.ts";
import { defineRoutes } from "./contract.ts";
import { Bytes, ChangeParams, EveningParams, GroupParams } from "./params.ts";

const tag = "Groups";

export const groupRoutes = defineRoutes({
  "GET /api/groups": {
    summary: "One's own groups",
    tag,
    access: "signed-in",
    query: Type.Object({ ...PageQuery, archived: Type.Optional(Type.Boolean()) }),
    response: pageOf(Group),
  },
  "GET /api/groups/:groupId": {
    summary: "One group",
    tag,
    access: "member",
    params: GroupParams,
    response: Group,
  },
  "PUT /api/groups/:groupId": {
    summary: "Create or change a group",
    description: "A new id makes a new group with the signed-in person as its coach.",
    tag,
    access: "signed-in",
    params: GroupParams,
    body: GroupInput,
    response: savedOf(Group),
  },
  "DELETE /api/groups/:groupId": {
    summary: "Delete a group with everything in it",
    description: "Wholly: runners, recordings, tracks, history. Cannot be undone; archive instead to keep it.",
    tag,
    access: "coach",
    params: GroupParams,
    response: Deleted,
  },
  "POST /api/demo": {
    summary: "Add the invented demo group again",
    tag,
    access: "signed-in",
    response: Type.Object({ groupId: Type.String() }),
  },
  "DELETE /api/demo": {
    summary: "Remove the invented demo group",
    tag,
    access: "signed-in",
    response: Deleted,
  },
  "GET /api/groups/:groupId/roster": {
    summary: "The roster with the latest of everything",
    tag,
    access: "member",
    params: GroupParams,
    query: Type.Object({
      ...PageQuery,
      search: Type.Optional(Type.String({ maxLength: 120 })),
      sort: Type.Optional(RosterSort),
      descending: Type.Optional(Type.Boolean()),
      archived: Type.Optional(Type.Boolean()),
      remote: Type.Optional(Type.Boolean()),
    }),
    response: pageOf(RosterRow),
  },
  "POST /api/groups/:groupId/roster/preview": {
    summary: "Read a roster CSV without storing anything",
    description: "Matches columns, finds duplicates, names row and column of every problem.",
    tag,
    access: "coach",
    params: GroupParams,
    body: roster.RosterCsv,
    response: roster.RosterPreview,
  },
  "POST /api/groups/:groupId/roster": {
    summary: "Add the previewed runners, all or none",
    description: "Undo with the changeId. Ids that exist already in the group are left as they are.",
    tag,
    access: "coach",
    params: GroupParams,
    body: roster.RosterCommit,
    response: roster.RosterCommitted,
  },
  "GET /api/groups/:groupId/roster.csv": {
    summary: "The roster as CSV",
    tag,
    access: "coach",
    params: GroupParams,
    response: Bytes,
    produces: ["text/csv"],
  },
  "GET /api/groups/:groupId/results": {
    summary: "How the programme went: the group and each runner",
    tag,
    access: "member",
    params: GroupParams,
    response: ProgrammeResult,
  },
  "GET /api/groups/:groupId/results.csv": {
    summary: "The programme's results as CSV",
    tag,
    access: "coach",
    params: GroupParams,
    response: Bytes,
    produces: ["text/csv"],
  },
  "GET /api/groups/:groupId/settings": {
    summary: "Settings",
    tag,
    access: "member",
    params: GroupParams,
    response: Settings,
  },
  "PUT /api/groups/:groupId/settings": {
    summary: "Change settings",
    description: "Only what is given changes; thresholds are replaced as a whole.",
    tag,
    access: "coach",
    params: GroupParams,
    body: SettingsInput,
    response: savedOf(Settings),
  },
  "GET /api/groups/:groupId/evenings/:on/attendance": {
    summary: "Who was there",
    tag,
    access: "member",
    params: EveningParams,
    response: Attendance,
  },
  "PUT /api/groups/:groupId/evenings/:on/attendance": {
    summary: "Mark who was there",
    description: "Marks the runners given; the others keep their mark.",
    tag,
    access: "member",
    params: EveningParams,
    body: AttendanceInput,
    response: savedOf(Attendance),
  },
  "GET /api/groups/:groupId/changes": {
    summary: "What was changed, newest first",
    tag,
    access: "member",
    params: GroupParams,
    query: changes.ChangeQuery,
    response: pageOf(changes.Change),
  },
  "GET /api/groups/:groupId/changes/:changeId": {
    summary: "One change, before and after",
    tag,
    access: "member",
    params: ChangeParams,
    response: changes.ChangeDetail,
  },
  "POST /api/groups/:groupId/changes/:changeId/undo": {
    summary: "Undo a change",
    description: "Refused (409) when something it touched has changed again since. The answer can itself be undone.",
    tag,
    access: "member",
    params: ChangeParams,
    response: Changed,
  },
});
