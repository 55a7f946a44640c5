// A group with one runner who has one of everything, for tests that look at every route.
import { inventRun } from "../src/server/demo/invent-run.ts";
import type { Person, TestServer } from "./test-server.ts";

export interface Scene {
  readonly groupId: string;
  readonly runnerId: string;
  readonly token: string;
  readonly ids: Readonly<
    Record<"countId" | "recordingId" | "painId" | "formId" | "videoId" | "linkId" | "changeId", string>
  >;
}

export const gpx = (seed: number, more: Partial<Parameters<typeof inventRun>[0]> = {}): Buffer =>
  Buffer.from(
    inventRun({
      seed,
      startedAtMs: Date.parse("2026-03-01T17:30:00Z") + seed * 86_400_000,
      minutes: 12,
      speedMps: 2.7,
      stepRateSpm: 160,
      ...more,
    }),
  );

export const countOf = (contacts: number, more: object = {}) => ({
  way: "contacts-in-time" as const,
  contacts,
  seconds: 60,
  feet: "one" as const,
  lapLengthM: 400,
  lapTimeS: 150,
  measuredAt: "2026-03-05T18:05:00Z",
  ...more,
});

export async function makeScene(server: TestServer, by: Person = server.coach): Promise<Scene> {
  const groupId = await server.group(by);
  const runnerId = await server.runner(groupId, "Odalys Brandt", by);
  const [countId, recordingId, painId, formId, videoId, linkId] = Array.from({ length: 6 }, () => server.id()) as [
    string,
    string,
    string,
    string,
    string,
    string,
  ];
  const saved = await by.ok("PUT /api/runners/:runnerId/counts/:countId", {
    params: { runnerId, countId },
    body: countOf(80),
  });
  await by.ok("PUT /api/runners/:runnerId/counts/:countId", {
    params: { runnerId, countId: server.id() },
    body: countOf(81),
  });
  await by.ok("PUT /api/runners/:runnerId/recordings/:recordingId", {
    params: { runnerId, recordingId },
    query: { fileName: "before.gpx", phase: "before" },
    file: gpx(1),
  });
  const at = "2026-03-05T19:00:00Z";
  await by.ok("PUT /api/runners/:runnerId/pain/:entryId", {
    params: { runnerId, entryId: painId },
    body: { score: 0, at },
  });
  await by.ok("PUT /api/runners/:runnerId/form-notes/:entryId", {
    params: { runnerId, entryId: formId },
    body: { at, when: "late", signs: ["posture"] },
  });
  await by.ok("PUT /api/runners/:runnerId/video-measures/:entryId", {
    params: { runnerId, entryId: videoId },
    body: { at, phase: "before", frameRateHz: 240, contactFrames: [10, 190], toeOffFrames: [70, 251] },
  });
  await by.ok("PUT /api/runners/:runnerId/proposal", { params: { runnerId }, body: {} });
  const { token } = await by.ok("PUT /api/runners/:runnerId/links/:linkId", { params: { runnerId, linkId }, body: {} });
  await server.phone(token).ok("PUT /api/runner/consent", { body: { given: true, textVersion: "1", at } });
  return {
    groupId,
    runnerId,
    token,
    ids: { countId, recordingId, painId, formId, videoId, linkId, changeId: saved.changeId ?? "" },
  };
}
