// That something happened: sign-ins, deletions, exports, links. No names, no numbers.
export interface AuditTable {
  id: string;
  at: string;
  byAccountId: string | null;
  what: string;
  groupId: string | null;
  runnerId: string | null;
}
