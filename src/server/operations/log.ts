// Structured logs, one JSON object a line, without personal data: ids, routes, durations, never names, notes or bodies.

export interface Log {
  info(message: string, fields?: LogFields): void;
  error(message: string, fields?: LogFields): void;
}
type LogFields = Readonly<Record<string, unknown>>;

export function createLog(write: (line: string) => void, now: () => Date): Log {
  const line = (level: string, message: string, fields: LogFields = {}): void => {
    write(`${JSON.stringify({ at: now().toISOString(), level, message, ...plain(fields) })}\n`);
  };
  return {
    info: (message, fields) => line("info", message, fields),
    error: (message, fields) => line("error", message, fields),
  };
}

export const silentLog: Log = { info: () => undefined, error: () => undefined };

/** Errors as name, code and stack; SQL errors may quote values in their message, so messages stay out. */
function plain(fields: LogFields): LogFields {
  return Object.fromEntries(
    Object.entries(fields).map(([key, value]) => [key, value instanceof Error ? describe(value) : value]),
  );
}

function describe(error: Error): LogFields {
  const frames = (error.stack ?? "").split("\n").filter((text) => text.trimStart().startsWith("at "));
  return {
    name: error.name,
    ...("code" in error ? { code: String(error.code) } : {}),
    at: frames.slice(0, 8).map((text) => text.trim()),
    ...(error.cause instanceof Error ? { cause: describe(error.cause) } : {}),
  };
}
