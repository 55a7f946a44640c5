// Counters and durations in the OpenMetrics text format 1.0.

const BUCKETS_S = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10] as const;

export interface Metrics {
  request(route: string, method: string, status: number, seconds: number): void;
  count(name: CounterName, by?: number): void;
  /** The exposition; gauges are read now. */
  text(gauges: Readonly<Record<string, number>>): string;
}

const counters = {
  uploads_stored: "Recordings stored.",
  uploads_refused: "Recordings that could not be read.",
  uploads_duplicate: "Recordings that were there already.",
  jobs_done: "Jobs finished.",
  jobs_failed: "Attempts at a job that failed.",
  sign_in_failed: "Wrong names, passwords or codes.",
} as const;
type CounterName = keyof typeof counters;

interface Histogram {
  readonly buckets: number[];
  sum: number;
  count: number;
}

export function createMetrics(): Metrics {
  const requests = new Map<string, number>();
  const durations = new Map<string, Histogram>();
  const counts = new Map<CounterName, number>();
  return {
    request(route, method, status, seconds) {
      const labels = `method="${escape(method)}",route="${escape(route)}"`;
      const key = `${labels},status="${status}"`;
      requests.set(key, (requests.get(key) ?? 0) + 1);
      const histogram = durations.get(labels) ?? { buckets: BUCKETS_S.map(() => 0), sum: 0, count: 0 };
      durations.set(labels, histogram);
      histogram.sum += seconds;
      histogram.count += 1;
      for (const [index, edge] of BUCKETS_S.entries())
        if (seconds <= edge) histogram.buckets[index] = (histogram.buckets[index] ?? 0) + 1;
    },
    count: (name, by = 1) => void counts.set(name, (counts.get(name) ?? 0) + by),
    text(gauges) {
      const lines: string[] = [];
      lines.push("# TYPE spondee_requests counter", "# HELP spondee_requests Answered requests.");
      for (const [labels, value] of requests) lines.push(`spondee_requests_total{${labels}} ${value}`);
      lines.push("# TYPE spondee_request_seconds histogram", "# UNIT spondee_request_seconds seconds");
      lines.push("# HELP spondee_request_seconds Time to answer.");
      for (const [labels, histogram] of durations) {
        for (const [index, edge] of BUCKETS_S.entries())
          lines.push(`spondee_request_seconds_bucket{${labels},le="${edge}"} ${histogram.buckets[index] ?? 0}`);
        lines.push(`spondee_request_seconds_bucket{${labels},le="+Inf"} ${histogram.count}`);
        lines.push(`spondee_request_seconds_sum{${labels}} ${histogram.sum}`);
        lines.push(`spondee_request_seconds_count{${labels}} ${histogram.count}`);
      }
      for (const [name, help] of Object.entries(counters)) {
        lines.push(`# TYPE spondee_${name} counter`, `# HELP spondee_${name} ${help}`);
        lines.push(`spondee_${name}_total ${counts.get(name as CounterName) ?? 0}`);
      }
      for (const [name, value] of Object.entries(gauges))
        lines.push(`# TYPE spondee_${name} gauge`, `spondee_${name} ${value}`);
      return `${lines.join("\n")}\n# EOF\n`;
    },
  };
}

function escape(value: string): string {
  return value.replaceAll("\\", "\\\\").replaceAll('"', '\\"').replaceAll("\n", "\\n");
}
