// What a runner said after a run.
export interface ReportTable {
  id: string;
  runnerId: string;
  at: string;
  sessionId: string | null;
  recordingId: string | null;
  effortRating: number | null;
  done: number;
  note: string;
}
