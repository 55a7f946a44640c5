// A signed-in browser. Only the hash of the cookie's secret is kept.
export interface SignInSessionTable {
  tokenHash: string;
  accountId: string;
  createdAt: string;
  lastSeenAt: string;
  expiresAt: string;
}
