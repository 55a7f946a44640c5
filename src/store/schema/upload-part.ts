// A recording that is still arriving: its bytes so far, in order, until it is joined or given up.
export interface UploadPartTable {
  runnerId: string;
  recordingId: string;
  /** Where in the file this part begins. */
  startByte: number;
  byteCount: number;
  bytes: Uint8Array;
  receivedAt: string;
}
