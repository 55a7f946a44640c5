// What leaves the desk: tracks of the group, calendars, messages, mail through a real SMTP server on this machine.
import { readdirSync, readFileSync, statSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { crc32 } from "node:zlib";
import ICAL from "ical.js";
import { SMTPServer } from "smtp-server";
import { WaveFile } from "wavefile";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { storeVariants } from "../../tests/store-variants.ts";
import { countOf } from "../../tests/scene.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";
import { sendMail } from "./jobs/send-mail.ts";

/** Two counts each, at 400 m in 150 s; the group's evening is Thursday, 5 March 2026. */
async function groupOf(server: TestServer, contacts: readonly number[]) {
  const groupId = await server.group();
  const runnerIds: string[] = [];
  for (const [index, count] of contacts.entries()) {
    const runnerId = await server.runner(groupId, `Invented Runner ${String.fromCharCode(65 + index)}`);
    runnerIds.push(runnerId);
    for (const more of [0, 1])
      await server.coach.ok("PUT /api/runners/:runnerId/counts/:countId", {
        params: { runnerId, countId: server.id() },
        body: countOf(count + more),
      });
  }
  const made = await server.coach.ok("POST /api/groups/:groupId/proposals", {
    params: { groupId },
    body: { runnerIds },
  });
  expect(made.skipped).toEqual([]);
  return { groupId, runnerIds };
}

/** Stored entries by way of the central directory, as APPNOTE 6.3 (ZIP file format specification) lays it out. */
function unzip(zip: Buffer): Map<string, Buffer> {
  const end = zip.lastIndexOf("PK\u0005\u0006", undefined, "latin1");
  const entries = new Map<string, Buffer>();
  let at = zip.readUInt32LE(end + 16);
  for (let left = zip.readUInt16LE(end + 10); left > 0; left -= 1) {
    const [nameBytes, extraBytes, noteBytes] = [28, 30, 32].map((field) => zip.readUInt16LE(at + field)) as [
      number,
      number,
      number,
    ];
    const local = zip.readUInt32LE(at + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const content = zip.subarray(start, start + zip.readUInt32LE(at + 24));
    expect(crc32(content)).toBe(zip.readUInt32LE(at + 16));
    entries.set(zip.toString("utf8", at + 46, at + 46 + nameBytes), content);
    at += 46 + nameBytes + extraBytes + noteBytes;
  }
  return entries;
}

/** Clicks by their sound alone: a loud sample after 0.1 s without one. */
function clickTimesS(samples: Int16Array, rateHz: number): number[] {
  const times: number[] = [];
  for (let index = 0, quietSince = -1e9; index < samples.length; index += 1) {
    if (Math.abs(samples[index] ?? 0) < 8000) continue;
    if (index - quietSince > 0.1 * rateHz) times.push(index / rateHz);
    quietSince = index;
  }
  return times;
}

describe.each(storeVariants)("hand-outs on $name", (variant) => {
  let server: TestServer;
  const closers: (() => void)[] = [];
  beforeEach(async () => {
    server = await startTestServer(variant);
  });
  afterEach(async () => {
    for (const close of closers.splice(0)) close();
    await server.close();
  });

  test("the zip holds one track for each runner's evening session, each with that runner's beat", async () => {
    const { groupId, runnerIds } = await groupOf(server, [79, 80, 82]);
    const progressId = server.id();
    const group = { params: { groupId } };
    const answer = await server.coach.call("GET /api/groups/:groupId/tracks.zip", {
      ...group,
      query: { on: "2026-03-05", format: "wav", sampleRateHz: 8000, progressId },
    });
    expect(answer.status).toBe(200);
    const files = unzip(answer.raw);
    expect([...files.keys()]).toHaveLength(3);
    const progress = { params: { groupId, progressId } };
    expect(await server.coach.ok("GET /api/groups/:groupId/tracks-progress/:progressId", progress)).toEqual({
      known: true,
      tracksDone: 3,
      trackCount: 3,
      fileName: null,
    });
    for (const [index, [name, bytes]] of [...files].entries()) {
      const runnerId = runnerIds[index] ?? "";
      expect(name).toContain("2026-03-05");
      expect(name).toContain(`IR${"ABC"[index]}`);
      expect(name).not.toContain("Runner");
      const list = await server.coach.ok("GET /api/runners/:runnerId/beat-events", {
        params: { runnerId },
        query: { sampleRateHz: 8000 },
      });
      const plan = await server.coach.ok("GET /api/runners/:runnerId/plan", { params: { runnerId } });
      if (plan.kind !== "plan") throw new Error("no plan");
      const wave = new WaveFile(bytes);
      const samples = wave.getSamples(false, Int16Array) as unknown as Int16Array;
      const heard = clickTimesS(samples, 8000);
      const asked = list.events.filter((event) => event.kind !== "announce");
      expect(heard.length).toBe(asked.length);
      // The beat of this runner and no other: the steps between clicks, in the middle of the run.
      const steady = heard.filter((at) => at > 900 && at < 1100);
      const rateSpm = (60 * (steady.length - 1)) / ((steady.at(-1) ?? 0) - (steady[0] ?? 0));
      expect(rateSpm).toBeCloseTo(plan.stages[0]?.stepRateSpm ?? 0, 1);
      expect(
        list.events.some((event) => event.kind === "announce"),
        "announced unless someone chose otherwise",
      ).toBe(true);
      for (const [place, at] of heard.entries()) expect(Math.abs(at - (asked[place]?.timeS ?? 0))).toBeLessThan(0.003);
    }
    const none = await server.coach.call("GET /api/groups/:groupId/tracks.zip", {
      ...group,
      query: { on: "2020-01-01" },
    });
    expect(none.status).toBe(404);
  }, 60_000);

  test("a calendar address is unguessable, its own runner's only, and dead once taken back", async () => {
    const { groupId, runnerIds } = await groupOf(server, [79, 80]);
    const feedId = server.id();
    const params = { groupId, feedId };
    await server.coach.ok("PUT /api/groups/:groupId/settings", {
      params: { groupId },
      body: { eveningTime: "18:30" },
    });
    const made = await server.coach.ok("PUT /api/groups/:groupId/feeds/:feedId", {
      params,
      body: { runnerId: runnerIds[0] ?? null },
    });
    expect(made.address).toMatch(/^\/api\/calendar\/[A-Za-z0-9_-]{43}$/);
    const token = made.address.slice("/api/calendar/".length);
    const stored = await server.deps.store.db.selectFrom("calendarFeed").selectAll().execute();
    expect(JSON.stringify(stored)).not.toContain(token);
    expect(server.logLines.join("\n")).not.toContain(token);
    const read = () => server.nobody.call("GET /api/calendar/:token", { params: { token } });
    const text = (await read()).raw.toString("utf8");
    const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent");
    const plan = await server.coach.ok("GET /api/runners/:runnerId/plan", { params: { runnerId: runnerIds[0] ?? "" } });
    if (plan.kind !== "plan") throw new Error("no plan");
    expect(events.length).toBe(plan.sessions.length + plan.recallChecks.length);
    // The group's zone in this test is UTC.
    expect(text).toContain("DTSTART:20260305T183000Z");
    expect(text).not.toContain("Invented Runner B");
    const whole = await server.coach.ok("PUT /api/groups/:groupId/feeds/:feedId", {
      params: { groupId, feedId: server.id() },
      body: {},
    });
    const all = await server.nobody.call("GET /api/calendar/:token", {
      params: { token: whole.address.slice("/api/calendar/".length) },
    });
    expect(all.raw.toString("utf8")).toContain("Invented Runner B");
    expect((await server.nobody.call("GET /api/calendar/:token", { params: { token: "x".repeat(43) } })).status).toBe(
      404,
    );
    const again = await server.coach.call("PUT /api/groups/:groupId/feeds/:feedId", { params, body: {} });
    expect(again.status).toBe(409);
    expect((await server.coach.ok("DELETE /api/groups/:groupId/feeds/:feedId", { params })).live).toBe(false);
    expect((await read()).status).toBe(404);
  });

  async function mailbox() {
    const taken: string[] = [];
    const smtp = new SMTPServer({
      authOptional: true,
      disabledCommands: ["STARTTLS"],
      onData(stream, _session, done) {
        const parts: Buffer[] = [];
        stream.on("data", (part: Buffer) => parts.push(part));
        stream.on("end", () => {
          taken.push(Buffer.concat(parts).toString("utf8"));
          done();
        });
      },
    });
    smtp.on("error", () => undefined);
    await new Promise<void>((resolve) => smtp.listen(0, "127.0.0.1", resolve));
    closers.push(() => smtp.close());
    return { taken, port: (smtp.server.address() as AddressInfo).port };
  }

  test("mail is off until a server is set, previewed before it goes, and goes once", async () => {
    const { groupId, runnerIds } = await groupOf(server, [79, 80]);
    const group = { params: { groupId } };
    const { items, weekOn } = await server.coach.ok("GET /api/groups/:groupId/messages", { ...group, query: {} });
    expect(weekOn).toBe("2026-03-05");
    expect(items[0]?.text).toContain("Stop at pain");
    expect(items[0]?.text).toContain("Coach Fenwick");
    const drafts = items.map(({ runnerId, subject, text }) => ({ runnerId, subject, text }));
    const preview = () => server.coach.ok("POST /api/groups/:groupId/mail/preview", { ...group, body: { drafts } });
    expect((await preview()).items[0]?.problems[0]?.code).toBe("mail-no-address");
    await server.coach.ok("PUT /api/groups/:groupId/addresses", {
      ...group,
      body: { addresses: [{ runnerId: runnerIds[0] ?? "", address: "a@example.org" }] },
    });
    expect((await preview()).items[0]?.problems[0]?.code).toBe("mail-off");
    const { taken, port } = await mailbox();
    const set = await server.coach.ok("PUT /api/mail/server", {
      body: { host: "127.0.0.1", port, encryption: "none", from: "coach@example.org" },
    });
    expect(set).toMatchObject({ configured: true, hasPassword: false });
    const shown = await preview();
    expect(shown.items.map((item) => item.problems.map((problem) => problem.code))).toEqual([[], ["mail-no-address"]]);
    const first = shown.items[0];
    if (first === undefined) throw new Error("no preview");
    const { runnerId, subject, text, digest } = first;
    const send = (changed = text) =>
      server.coach.ok("POST /api/groups/:groupId/mail", {
        ...group,
        body: { weekOn, messages: [{ runnerId, subject, text: changed, digest }] },
      });
    expect((await send(`${text} More.`)).refused[0]?.problems[0]?.code).toBe("mail-not-previewed");
    expect((await send()).queued).toHaveLength(1);
    expect((await send()).queued).toHaveLength(1);
    const list = async () => (await server.coach.ok("GET /api/groups/:groupId/mail", group)).items;
    expect((await list()).map((item) => item.status)).toEqual(["queued"]);
    await server.jobs.drain();
    expect(taken).toHaveLength(1);
    expect(taken[0]).toContain("To: a@example.org");
    expect((await list()).map((item) => [item.status, item.to, item.own])).toEqual([["sent", "a@example.org", true]]);
    await send();
    await server.jobs.drain();
    expect(taken).toHaveLength(1);
  });

  test("an uncertain message waits for the coach who queued it, and no job sends it", async () => {
    const { groupId, runnerIds } = await groupOf(server, [79]);
    const group = { params: { groupId } };
    const runnerId = runnerIds[0] ?? "";
    await server.coach.ok("PUT /api/groups/:groupId/addresses", {
      ...group,
      body: { addresses: [{ runnerId, address: "a@example.org" }] },
    });
    const { taken, port } = await mailbox();
    await server.coach.ok("PUT /api/mail/server", {
      body: { host: "127.0.0.1", port, encryption: "none", from: "coach@example.org" },
    });
    const drafts = [{ runnerId, subject: "Thursday", text: "Easy." }];
    const [shown] = (await server.coach.ok("POST /api/groups/:groupId/mail/preview", { ...group, body: { drafts } }))
      .items;
    const digest = shown?.digest ?? "";
    await server.coach.ok("POST /api/groups/:groupId/mail", {
      ...group,
      body: { weekOn: "2026-03-05", messages: [{ ...drafts[0]!, digest }] },
    });
    // The process died while it was sending.
    await server.deps.store.db
      .updateTable("mailItem")
      .set({
        status: "sending",
        stateAt: "2026-03-05T17:00:00.000Z",
        stateJson: JSON.stringify({ status: "sending", since: "2026-03-05T17:00:00.000Z" }),
      })
      .execute();
    await sendMail(server.deps);
    await server.jobs.drain();
    const [item] = (await server.coach.ok("GET /api/groups/:groupId/mail", group)).items;
    expect(item).toMatchObject({ status: "uncertain", attempts: 0 });
    expect(taken).toHaveLength(0);
    const other = await server.account("second-coach");
    await server.coach.ok("POST /api/groups/:groupId/members", {
      ...group,
      body: { signInName: "second-coach", role: "coach" },
    });
    const params = { groupId, mailId: item?.id ?? "" };
    expect((await other.call("POST /api/groups/:groupId/mail/:mailId/again", { params })).status).toBe(409);
    expect((await server.coach.ok("POST /api/groups/:groupId/mail/:mailId/again", { params })).item.status).toBe(
      "queued",
    );
    await server.jobs.drain();
    expect(taken).toHaveLength(1);
    expect((await server.coach.call("POST /api/groups/:groupId/mail/:mailId/again", { params })).problem.code).toBe(
      "mail-not-stopped",
    );
  });

  test("the mail password is nowhere in the database, never answered, and bound to its server and user", async () => {
    const body = { host: "mail.example.org", port: 465, encryption: "tls" as const, from: "coach@example.org" };
    const secret = "a very secret mail password";
    const set = await server.coach.ok("PUT /api/mail/server", { body: { ...body, user: "coach", password: secret } });
    expect(set).toMatchObject({ hasPassword: true, passwordReadable: true, user: "coach" });
    expect(JSON.stringify(set)).not.toContain(secret);
    const rows = JSON.stringify(await server.deps.store.db.selectFrom("mailServer").selectAll().execute());
    expect(rows).not.toContain(secret);
    expect(rows).not.toContain(Buffer.from(secret).toString("base64url").slice(0, 12));
    const { dataDir } = server.deps.settings;
    expect(readdirSync(dataDir)).toContain("mail.key");
    expect(statSync(join(dataDir, "mail.key")).mode & 0o077).toBe(0);
    expect(readFileSync(join(dataDir, "mail.key")).length).toBe(32);
    const kept = await server.coach.ok("PUT /api/mail/server", { body: { ...body, user: "coach", port: 587 } });
    expect(kept.hasPassword).toBe(true);
    const elsewhere = await server.coach.call("PUT /api/mail/server", {
      body: { ...body, user: "coach", host: "other.example.org" },
    });
    expect(elsewhere.problem.code).toBe("mail-password");
    const clear = await server.coach.call("PUT /api/mail/server", { body: { ...body, encryption: "none" } });
    expect(clear.problem.code).toBe("mail-in-the-clear");
    await server.coach.ok("DELETE /api/mail/server");
    expect((await server.coach.ok("GET /api/mail/server")).configured).toBe(false);
  });

  test("deleting a person takes their address, messages and calendar along", async () => {
    const { groupId, runnerIds } = await groupOf(server, [79]);
    const runnerId = runnerIds[0] ?? "";
    await server.coach.ok("PUT /api/groups/:groupId/addresses", {
      params: { groupId },
      body: { addresses: [{ runnerId, address: "a@example.org" }] },
    });
    await server.coach.ok("PUT /api/groups/:groupId/feeds/:feedId", {
      params: { groupId, feedId: server.id() },
      body: { runnerId },
    });
    await server.coach.ok("DELETE /api/runners/:runnerId", { params: { runnerId } });
    for (const table of ["mailAddress", "calendarFeed", "mailItem"] as const)
      expect(await server.deps.store.db.selectFrom(table).selectAll().execute()).toEqual([]);
    await server.coach.ok("DELETE /api/groups/:groupId", { params: { groupId } });
  });
});
