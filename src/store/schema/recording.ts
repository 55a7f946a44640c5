// A file that was sent, and the coach's labels on it. Its bytes are in recordingChunk, what was read in analysis.
export interface RecordingTable {
  id: string;
  runnerId: string;
  fileName: string;
  byteCount: number;
  /** Unique per runner: the same bytes are stored once. */
  contentSha256: string;
  phase: "before" | "during" | "after" | "unsorted";
  surface: "outdoor" | "treadmill" | "unknown";
  startedAt: string | null;
  uploadedAt: string;
  uploadedBy: "coach" | "runner";
  excluded: number;
  excludedReason: string;
  trimStartS: number;
  trimEndS: number | null;
  /** null: as the file says. */
  cueBlocksJson: string | null;
  effortRating: number | null;
  note: string;
}
