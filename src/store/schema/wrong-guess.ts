/** Wrong passwords for one sign-in name in a row. */
export interface WrongGuessTable {
  /** Hash of the name as it was typed: someone may have typed a password there. */
  nameHash: string;
  count: number;
  /** When the name may be tried again. */
  freeAt: string;
}
