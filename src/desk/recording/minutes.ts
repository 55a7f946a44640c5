// Times within a recording as people type them.
import { formatMinutesSeconds, SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";

/** "12:30", "1:02:03", or whole minutes as "5". Seconds; undefined when it is none. */
export function parseMinutes(text: string): number | undefined {
  const parts = text.trim().split(":");
  if (parts.length > 3 || parts.some((part) => !/^\d+$/.test(part))) return undefined;
  const numbers = parts.map(Number);
  if (numbers.length === 1) return (numbers[0] ?? 0) * SECONDS_PER_MINUTE;
  if (numbers.slice(1).some((value) => value >= 60)) return undefined;
  return numbers.reduce((sum, value) => sum * SECONDS_PER_MINUTE + value, 0);
}

export function minutesText(seconds: number): string {
  return formatMinutesSeconds(seconds);
}
