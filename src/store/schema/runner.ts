export interface RunnerTable {
  id: string;
  groupId: string;
  name: string;
  /** Lower case, for search and order. */
  nameKey: string;
  initials: string;
  heightM: number | null;
  legLengthM: number | null;
  massKg: number | null;
  historyJson: string;
  goalSpm: number | null;
  raceDate: string | null;
  remote: number;
  notes: string;
  archived: number;
  createdAt: string;
}
