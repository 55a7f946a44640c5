// Codes printed in the terminal: for the first set-up, or to sign in on this machine.
export interface OneTimeCodeTable {
  codeHash: string;
  purpose: "setup" | "sign-in";
  accountId: string | null;
  expiresAt: string;
}
