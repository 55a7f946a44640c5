const DAY_MS = 86_400_000;

/** Which week of the programme a date falls in: 1 for the first seven days, 0 or less before. Plain dates. */
export function programmeWeek(startsOn: string, on: string): number {
  const days = Math.round((Date.parse(`${on}T00:00:00Z`) - Date.parse(`${startsOn}T00:00:00Z`)) / DAY_MS);
  return Math.floor(days / 7) + 1;
}

/** A plain date so many days later (or earlier). */
export function addDays(on: string, days: number): string {
  return new Date(Date.parse(`${on}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
}

/** Monday 1 to Sunday 7, ISO 8601. */
export function weekdayOf(on: string): number {
  const day = new Date(`${on}T00:00:00Z`).getUTCDay();
  return day === 0 ? 7 : day;
}
