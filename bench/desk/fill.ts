// A group as large as a coach has: everyone counted, planned and recorded, through the same doors as real data. All invented.
import { randomUUID } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { inventRun } from "../../src/server/demo/invent-run.ts";
import { inventTrack, writeGpx } from "../../src/engine/synthetic/tracks.ts";

export const RUNNERS = 60;
export const RECORDINGS = 600;
const EACH = RECORDINGS / RUNNERS;
const BEFORE = 3;
const RUN_MINUTES = 22;
const DAY_MS = 86_400_000;
const AT_ONCE = 4;

export interface BenchGroup {
  readonly groupId: string;
  readonly runnerId: string;
  /** Of that runner: three hours, a sample a second. */
  readonly longRecordingId: string;
}

export type Call = (method: string, path: string, body?: unknown) => Promise<unknown>;

export interface FilledGroup {
  readonly call: Call;
  /** Signs a browser in. */
  readonly cookie: string;
  readonly group: BenchGroup;
}

/** By the address that the server printed. With `keptIn` a group that was made there before is used again. */
export async function filledGroup(address: string, keptIn?: string): Promise<FilledGroup> {
  const { origin, hash } = new URL(address);
  let cookie = "";
  const call: Call = async (method, path, body) => {
    const file = body instanceof Uint8Array;
    const answer = await fetch(origin + path, {
      method,
      headers: {
        "x-spondee": "1",
        cookie,
        ...(body === undefined ? {} : { "content-type": file ? "application/octet-stream" : "application/json" }),
      },
      ...(body === undefined ? {} : { body: file ? Buffer.from(body) : JSON.stringify(body) }),
    });
    if (answer.status === 429) {
      // The server's own limit for one person: wait and go on.
      await new Promise((resolve) => setTimeout(resolve, 5000));
      return call(method, path, body);
    }
    if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
    cookie = answer.headers.getSetCookie()[0]?.split(";")[0] ?? cookie;
    return answer.json();
  };
  const noteFile = keptIn === undefined ? undefined : join(keptIn, "bench-group.json");
  const person = { signInName: "coach", password: "a quiet field at dusk" };
  if (noteFile !== undefined && existsSync(noteFile)) {
    await call("POST", "/api/session", person);
    return { call, cookie, group: JSON.parse(readFileSync(noteFile, "utf8")) as BenchGroup };
  }
  await call("POST", "/api/setup", { code: hash.replace("#setup=", ""), displayName: "Coach Invented", ...person });
  const group = await fillGroup(call);
  if (noteFile !== undefined) writeFileSync(noteFile, JSON.stringify(group));
  return { call, cookie, group };
}

async function fillGroup(call: Call): Promise<BenchGroup> {
  const groupId = randomUUID();
  const startsOn = dayAgo(35);
  const eveningWeekday = new Date(`${startsOn}T00:00:00Z`).getUTCDay() || 7;
  await call("PUT", `/api/groups/${groupId}`, {
    name: "Sixty (invented)",
    startsOn,
    weeks: 10,
    eveningWeekday,
    timeZone: "UTC",
  });
  const people = Array.from({ length: RUNNERS }, (_, index) => ({
    id: randomUUID(),
    runner: { name: `Invented ${String(index + 1).padStart(2, "0")}`, remote: index % 6 === 0 },
    spm: 154 + (index % 14),
    speedMps: 2.5 + (index % 9) / 12,
  }));
  await call("POST", `/api/groups/${groupId}/roster`, { runners: people.map(({ id, runner }) => ({ id, runner })) });
  const counts = people.flatMap(({ id, spm, speedMps }) =>
    [0, 1].map((more) => ({
      id: randomUUID(),
      runnerId: id,
      count: {
        way: "contacts-in-time",
        contacts: Math.round(spm / 2) + more,
        seconds: 60,
        feet: "one",
        lapLengthM: 400,
        lapTimeS: Math.round(400 / speedMps),
        measuredAt: `${startsOn}T18:05:00Z`,
      },
    })),
  );
  for (let from = 0; from < counts.length; from += 60)
    await call("PUT", `/api/groups/${groupId}/counts`, { counts: counts.slice(from, from + 60) });
  await call("POST", `/api/groups/${groupId}/proposals`, { runnerIds: people.map(({ id }) => id) });
  const uploads = people.flatMap((person, at) =>
    Array.from({ length: EACH }, (_, index) => () => {
      const before = index < BEFORE;
      const startedAtMs = Date.parse(`${dayAgo(before ? 44 - 2 * index : 34 - 4 * (index - BEFORE))}T17:30:00Z`);
      const bytes = inventRun({
        seed: 100 * at + index,
        startedAtMs,
        minutes: RUN_MINUTES,
        speedMps: person.speedMps,
        stepRateSpm: person.spm + (before ? 0 : 5),
      });
      return call("PUT", recordingPath(person.id, randomUUID(), `run-${index}.gpx`, before), bytes);
    }),
  );
  await together(uploads);
  const [first] = people;
  if (first === undefined) throw new Error("fillGroup: nobody there");
  const longRecordingId = randomUUID();
  await call("PUT", recordingPath(first.id, longRecordingId, "three-hours.gpx", false), threeHours());
  return { groupId, runnerId: first.id, longRecordingId };
}

function recordingPath(runnerId: string, id: string, fileName: string, before: boolean): string {
  return `/api/runners/${runnerId}/recordings/${id}?fileName=${fileName}&phase=${before ? "before" : "during"}`;
}

function threeHours(): Uint8Array {
  const legs = Array.from({ length: 180 }, (_, minute) => ({
    durationS: 60,
    speedMps: minute % 30 === 29 ? 0 : 2.8 + 0.2 * Math.sin(minute / 7),
    stepRateSpm: minute % 30 === 29 ? 0 : 166 + 3 * Math.sin(minute / 11),
    turnRadPerS: 0.03,
    slope: 0.02 * Math.sin(minute / 5),
  }));
  const { recording } = inventTrack({
    seed: 3,
    legs,
    startedAtMs: Date.parse(`${dayAgo(4)}T07:00:00Z`),
    noise: { whiteM: 0.8, wanderM: 2, elevationM: 0.4, stepRateSpm: 1 },
  });
  return Buffer.from(writeGpx(recording, { cadence: "one" }), "utf8");
}

function dayAgo(days: number): string {
  return new Date(Date.now() - days * DAY_MS).toISOString().slice(0, 10);
}

async function together(tasks: readonly (() => Promise<unknown>)[]): Promise<void> {
  const left = tasks.values();
  const work = async (): Promise<void> => {
    for (const task of left) await task();
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
}
