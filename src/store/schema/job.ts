// Work to do later. jobKey is unique, so asking twice is asking once.
export interface JobTable {
  id: string;
  jobKey: string;
  kind: string;
  payloadJson: string;
  runAfter: string;
  attempts: number;
  claimedBy: string | null;
  claimedUntil: string | null;
  lastError: string | null;
  createdAt: string;
}
