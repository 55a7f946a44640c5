// People who may sign in.
export interface AccountTable {
  id: string;
  /** Lower case, unique. */
  signInName: string;
  displayName: string;
  /** null for the account of a first run that only ever used a one-time address. */
  passwordHash: string | null;
  owner: number;
  disabled: number;
  createdAt: string;
}
