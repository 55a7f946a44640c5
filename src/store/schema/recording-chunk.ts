// The bytes of a recording in pieces of one MiB, so that neither side ever holds a whole file.
export interface RecordingChunkTable {
  recordingId: string;
  chunkIndex: number;
  bytes: Uint8Array;
}
