// Times as the open formats write them.

export interface IsoTime {
  readonly utcMs: number;
  /** False when no zone was given and UTC was taken, as GPX 1.1 says. */
  readonly hasZone: boolean;
}

const PATTERN = /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d(?:[.,]\d{1,9})?))?\s*(Z|z|[+-]\d\d:?\d\d)?$/;

/**
 * Date and time of ISO 8601 / XML Schema dateTime, years 1970 to 9999; undefined when it is none or the day does
 * not exist. A leap second (60) runs into the next minute.
 */
export function parseIsoTime(text: string): IsoTime | undefined {
  const match = PATTERN.exec(text.trim());
  if (!match) return undefined;
  const [year, month, day, hour, minute] = match.slice(1, 6).map(Number) as [number, number, number, number, number];
  const second = Number((match[6] ?? "0").replace(",", "."));
  if (year < 1970 || hour > 24 || minute > 59 || second >= 61 || (hour === 24 && minute + second > 0)) return undefined;
  const midnight = Date.UTC(year, month - 1, day);
  const date = new Date(midnight);
  if (date.getUTCMonth() !== month - 1 || date.getUTCDate() !== day) return undefined;
  const zone = match[7];
  const offsetMinutes = zone === undefined || /z/i.test(zone) ? 0 : zoneMinutes(zone);
  const utcMs = midnight + ((hour * 60 + minute - offsetMinutes) * 60 + second) * 1000;
  return { utcMs, hasZone: zone !== undefined };
}

function zoneMinutes(zone: string): number {
  const sign = zone.startsWith("-") ? -1 : 1;
  return sign * (Number(zone.slice(1, 3)) * 60 + Number(zone.slice(-2)));
}

/** "5:30", "1:02:03.5" as seconds; undefined when it is no such clock time. */
export function parseClockS(text: string): number | undefined {
  const match = /^(?:(\d{1,3}):)?(\d{1,3}):([0-5]\d(?:[.,]\d+)?)$/.exec(text.trim());
  if (!match) return undefined;
  if (match[1] !== undefined && Number(match[2]) > 59) return undefined;
  return Number(match[1] ?? 0) * 3600 + Number(match[2]) * 60 + Number(match[3]!.replace(",", "."));
}
