// A phone-page link. Only the hash of its token is kept.
export interface RunnerLinkTable {
  id: string;
  runnerId: string;
  tokenHash: string;
  createdAt: string;
  expiresAt: string;
  revokedAt: string | null;
  lastUsedAt: string | null;
}
