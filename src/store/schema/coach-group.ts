// A programme: its dates, its evening, its settings.
export interface CoachGroupTable {
  id: string;
  name: string;
  startsOn: string;
  weeks: number;
  eveningWeekday: number;
  timeZone: string;
  holidaysJson: string;
  raceDate: string | null;
  note: string;
  archived: number;
  /** Made up for the demo. */
  invented: number;
  settingsJson: string;
  createdAt: string;
}
