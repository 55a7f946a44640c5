// One act of one person, with the rows it touched, so that it can be read and undone.
export interface ChangeTable {
  id: string;
  groupId: string;
  /** null when it touched several runners, or none. */
  runnerId: string | null;
  at: string;
  byAccountId: string | null;
  byName: string;
  what: string;
  mainTable: string;
  rowCount: number;
  undoOf: string | null;
  undoneBy: string | null;
}

export interface ChangeRowTable {
  changeId: string;
  position: number;
  tableName: string;
  rowId: string;
  /** Whose data it is, so that deleting a person reaches it. */
  runnerId: string | null;
  beforeJson: string | null;
  afterJson: string | null;
}
