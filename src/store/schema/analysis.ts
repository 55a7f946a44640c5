// What the engine read out of a recording, with the version that did. The large columns come last.
export interface AnalysisTable {
  recordingId: string;
  engineVersion: string;
  state: "analysed" | "unreadable";
  computedAt: string;
  problemsJson: string;
  warningsJson: string;
  summaryJson: string | null;
  windowsJson: string;
  /** gzip of the trace's JSON. */
  traceGzip: Uint8Array | null;
}
