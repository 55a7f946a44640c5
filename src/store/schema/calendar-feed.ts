// An address that a calendar asks by itself. Only the hash of its token is kept.
export interface CalendarFeedTable {
  id: string;
  groupId: string;
  /** null: the whole group. */
  runnerId: string | null;
  tokenHash: string;
  createdAt: string;
  revokedAt: string | null;
  lastUsedAt: string | null;
}
