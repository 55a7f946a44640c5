// Rows for tests of the store: a group, a runner, an account, a pain entry, and a write that is remembered.
import { type Store, TrackedWrite } from "../src/store/index.ts";

export const at = "2026-03-05T18:00:00.000Z";

export const group = {
  id: "g1",
  name: "Invented",
  startsOn: "2026-03-05",
  weeks: 10,
  eveningWeekday: 4,
  timeZone: "UTC",
  holidaysJson: "[]",
  raceDate: null,
  note: "",
  archived: 0,
  invented: 0,
  settingsJson: "{}",
  createdAt: at,
};

export const runner = (id: string, name: string) => ({
  id,
  groupId: "g1",
  name,
  nameKey: name.toLowerCase(),
  initials: "",
  heightM: 1.7,
  legLengthM: null,
  massKg: null,
  historyJson: "[]",
  goalSpm: null,
  raceDate: null,
  remote: 0,
  notes: "",
  archived: 0,
  createdAt: at,
});

export const account = (id: string) => ({
  id,
  signInName: id,
  displayName: id,
  passwordHash: null,
  owner: 0,
  disabled: 0,
  createdAt: at,
});

export const pain = (id: string, runnerId: string, score: number) => ({
  id,
  runnerId,
  score,
  place: "",
  signsJson: "[]",
  at,
  note: "",
  enteredBy: "coach" as const,
});

export const context = (changeId: string, what = "test") => ({
  changeId,
  groupId: "g1",
  at,
  byAccountId: null,
  byName: "T",
  what,
});

export const tracked = <T>(store: Store, changeId: string, work: (write: TrackedWrite) => Promise<T>) =>
  store.write(async (trx) => {
    const write = new TrackedWrite(trx, context(changeId));
    await work(write);
    return write.finish();
  });
