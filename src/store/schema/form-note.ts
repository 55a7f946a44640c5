export interface FormNoteTable {
  id: string;
  runnerId: string;
  at: string;
  whenInRun: "early" | "late";
  signsJson: string;
  note: string;
}
