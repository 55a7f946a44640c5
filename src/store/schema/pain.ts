export interface PainTable {
  id: string;
  runnerId: string;
  score: number;
  place: string;
  signsJson: string;
  at: string;
  note: string;
  enteredBy: "coach" | "runner";
}
