// A recording over a bad line: in parts, each of them kept before it is acknowledged.
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { gpx, makeScene, type Scene } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { type Person, sha256, startTestServer, type TestServer } from "../../tests/test-server.ts";
import { tidy } from "./jobs/tidy.ts";

const PART = 20_000;

describe.each(storeVariants)("a recording in parts on $name", (variant) => {
  let server: TestServer;
  let scene: Scene;
  let phone: Person;
  let recordingId: string;
  const bytes = gpx(60);
  beforeEach(async () => {
    server = await startTestServer(variant);
    scene = await makeScene(server);
    phone = server.phone(scene.token);
    recordingId = server.id();
  });
  afterEach(() => server.close());

  const part = (startByte: number, file: unknown = bytes.subarray(startByte, startByte + PART), by = phone) =>
    by.call("PUT /api/runner/recordings/:recordingId/parts/:startByte", { params: { recordingId, startByte }, file });
  const arrived = (by = phone) => by.ok("GET /api/runner/recordings/:recordingId/parts", { params: { recordingId } });
  const join = (hash = sha256(bytes), by = phone) =>
    by.call("POST /api/runner/recordings/:recordingId/join", {
      params: { recordingId },
      query: { fileName: "run.gpx", sha256: hash },
    });
  const sendRest = async (): Promise<void> => {
    for (let at = (await arrived()).receivedBytes; at < bytes.length; ) at = (await part(at)).body.receivedBytes;
  };
  const partRows = async (): Promise<number> =>
    (await server.deps.store.db.selectFrom("uploadPart").select("startByte").execute()).length;

  test("goes on where it stopped, is stored once, byte for byte, and leaves no part behind", async () => {
    expect(await arrived()).toEqual({ receivedBytes: 0, isStored: false });
    expect((await part(0)).body).toEqual({ receivedBytes: PART, isStored: false });
    // The line went dead inside the second part: nothing of it counts.
    async function* breaking() {
      yield bytes.subarray(PART, PART + 1000);
      await Promise.resolve();
      throw new Error("the line went dead");
    }
    await part(PART, breaking()).catch(() => undefined);
    expect((await arrived()).receivedBytes).toBe(PART);
    await sendRest();
    expect((await join()).body).toEqual({
      outcome: "stored",
      recordingId,
      contentSha256: sha256(bytes),
      byteCount: bytes.length,
    });
    // The answer was lost on the way: asked again, by either way.
    expect((await join()).body.outcome).toBe("already-stored");
    expect(await arrived()).toEqual({ receivedBytes: 0, isStored: true });
    const file = await server.coach.call("GET /api/runners/:runnerId/recordings/:recordingId/file", {
      params: { runnerId: scene.runnerId, recordingId },
    });
    expect(file.raw.equals(bytes)).toBe(true);
    expect(await partRows()).toBe(0);
  });

  test("parts that overlap, leave a gap, come twice or from two senders at once are kept once or not at all", async () => {
    await part(0);
    expect((await part(0)).body.receivedBytes).toBe(PART);
    expect((await part(10, bytes.subarray(10, 20))).body.receivedBytes).toBe(PART);
    expect((await part(2 * PART)).body.receivedBytes).toBe(PART);
    await Promise.all(Array.from({ length: 4 }, () => part(PART)));
    expect((await arrived()).receivedBytes).toBe(2 * PART);
    await sendRest();
    const outcomes = (await Promise.all([join(), join()])).map((answer) => answer.status);
    expect(outcomes.filter((status) => status === 200).length).toBeGreaterThanOrEqual(1);
    const stored = await phone.ok("GET /api/runner/sent");
    expect(stored.recordings.filter((one) => one.id === recordingId)).toHaveLength(1);
  });

  test("what did not arrive as it was sent, or is no recording, is dropped whole and can be sent anew", async () => {
    await sendRest();
    const damaged = await join("0".repeat(64));
    expect([damaged.status, damaged.problem.code]).toEqual([422, "damaged-on-the-way"]);
    expect(await partRows()).toBe(0);
    expect((await join()).problem.code).toBe("no-parts");
    await sendRest();
    expect((await join()).body.outcome).toBe("stored");
    recordingId = server.id();
    await part(0, Buffer.from("dear coach"));
    expect((await join(sha256(Buffer.from("dear coach")))).status).toBe(422);
    expect(await partRows()).toBe(0);
  });

  test("nobody else sees or fills it; without consent nothing is kept; deleting takes it along", async () => {
    await part(0);
    const second = await makeScene(server);
    const stranger = server.phone(second.token);
    expect((await arrived(stranger)).receivedBytes).toBe(0);
    await part(0, Buffer.from("theirs"), stranger);
    expect((await arrived()).receivedBytes).toBe(PART);
    const at = "2026-03-05T19:30:00Z";
    await stranger.ok("PUT /api/runner/consent", { body: { given: false, textVersion: "1", at } });
    expect((await arrived(stranger)).receivedBytes).toBe(0);
    expect((await part(0, Buffer.from("theirs"), stranger)).problem.code).toBe("consent-needed");
    expect((await join(sha256(bytes), stranger)).problem.code).toBe("consent-needed");
    await phone.ok("DELETE /api/runner/me");
    expect(await partRows()).toBe(0);
  });

  test("too large a part, too large a whole and what was given up do not stay", async () => {
    expect((await part(0, Buffer.alloc(1024 * 1024 + 1, 32))).status).toBe(413);
    expect((await part(server.deps.settings.maxUploadBytes, Buffer.alloc(10))).status).toBe(413);
    expect((await part(0, Buffer.alloc(0))).status).toBe(422);
    await part(0);
    await server.deps.store.db.updateTable("uploadPart").set({ receivedAt: "2025-12-01T00:00:00.000Z" }).execute();
    recordingId = server.id();
    await part(0);
    await tidy(server.deps);
    expect(await partRows()).toBe(1);
    expect((await arrived()).receivedBytes).toBe(PART);
  });
});
