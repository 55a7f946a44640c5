// Mail servers as they fail: the outbox and the real sender together, against servers that hang, drip, drop and change their mind.
import { type AddressInfo, createServer, type Socket } from "node:net";
import { afterEach, describe, expect, it } from "vitest";
import { createMemoryOutbox } from "../../../tests/outbox-store.ts";
import { createOutbox } from "./mail-outbox.ts";
import { createSmtpSender } from "./smtp-sender.ts";

/** Short, so that a server that hangs is given up within a test's patience; the usual ones differ in length alone. */
const LIMITS = { connectMs: 150, silenceMs: 150, wholeMs: 400 };

const closers: (() => void)[] = [];
afterEach(() => {
  for (const close of closers.splice(0)) close();
});

type Speech = (socket: Socket, step: string, visit: number) => void;

/** Calls `speak` at the greeting, at each command and at the end of the body; counts the bodies it was handed. */
async function server(
  speak: Speech,
): Promise<{ readonly port: number; readonly bodies: string[]; readonly visits: () => number }> {
  const bodies: string[] = [];
  let visits = 0;
  const listening = createServer((socket) => {
    const visit = (visits += 1);
    let pending = "";
    let body: string[] | undefined;
    socket.on("error", () => undefined);
    socket.on("data", (bytes) => {
      pending += bytes.toString("latin1");
      for (let at = pending.indexOf("\r\n"); at >= 0; at = pending.indexOf("\r\n")) {
        const line = pending.slice(0, at);
        pending = pending.slice(at + 2);
        if (body === undefined) {
          const command = line.slice(0, 4).toUpperCase();
          if (command === "DATA") body = [];
          speak(socket, command, visit);
        } else if (line === ".") {
          bodies.push(body.join("\n"));
          body = undefined;
          speak(socket, "body", visit);
        } else body.push(line);
      }
    });
    speak(socket, "greeting", visit);
  });
  await new Promise<void>((resolve) => listening.listen(0, "127.0.0.1", resolve));
  const sockets = new Set<Socket>();
  listening.on("connection", (socket) => sockets.add(socket));
  closers.push(() => {
    for (const socket of sockets) socket.destroy();
    listening.close();
  });
  return { port: (listening.address() as AddressInfo).port, bodies, visits: () => visits };
}

/** What a server that works answers. */
const POLITE: Readonly<Record<string, string>> = { greeting: "220 ready", DATA: "354 go on" };
const say = (socket: Socket, step: string, changed: Readonly<Record<string, string>> = {}): void =>
  void socket.write(`${changed[step] ?? POLITE[step] ?? "250 fine"}\r\n`);

function bench(port: number, messages = 1, limits = LIMITS) {
  const store = createMemoryOutbox();
  let time = Date.parse("2026-03-04T12:00:00Z");
  let id = 0;
  const from = "coach@example.org";
  const outbox = createOutbox({
    store,
    sender: createSmtpSender({ host: "127.0.0.1", port, encryption: "none", from }, limits),
    now: () => new Date(time),
    newId: () => `m${(id += 1)}`,
  });
  return {
    outbox,
    wait: (seconds: number) => void (time += 1000 * seconds),
    states: () => store.all().map(({ state }) => state.status),
    attempts: () => store.all().map(({ attempts }) => attempts),
    fill: async () => {
      for (let index = 0; index < messages; index += 1) {
        const draft = { to: `runner${index}@example.org`, subject: "Your session", text: "Wednesday: 172 spm." };
        const preview = outbox.preview(draft);
        if (!preview.ok) throw new Error("no preview");
        await outbox.enqueue(draft, { key: `${index}`, digest: preview.value.digest });
      }
    },
  };
}

describe("mail servers that fail", () => {
  it.each(
    (
      [
        ["says nothing at all", () => undefined],
        [
          "hangs at the recipient",
          (socket, step) => {
            if (step !== "RCPT") say(socket, step);
          },
        ],
        [
          "drips a byte now and then and is never silent",
          (socket, step) => {
            if (step !== "MAIL") return say(socket, step);
            const dripping = setInterval(() => socket.write("2"), 40);
            socket.on("close", () => clearInterval(dripping));
          },
          // Only the limit of the whole can end it.
          { ...LIMITS, silenceMs: 3_600_000 },
        ],
        ["drops the line at once", (socket) => void socket.destroy()],
      ] as readonly (readonly [string, Speech, typeof LIMITS?])[]
    ).map(([name, speak, limits]) => [name, speak, limits ?? LIMITS] as const),
  )("one that %s: given up, one message tried, all kept for later", async (_, speak, limits) => {
    const { port, bodies, visits } = await server(speak);
    const { outbox, fill, states, attempts } = bench(port, 3, limits);
    await fill();
    expect(await outbox.sendDue()).toBe(1);
    expect(visits()).toBe(1);
    expect(states()).toEqual(["queued", "queued", "queued"]);
    expect(attempts()).toEqual([1, 0, 0]);
    expect(bodies).toEqual([]);
  });

  it("one that answers 4yz and later 250: each message arrives once, with one Message-ID", async () => {
    const { port, bodies } = await server((socket, step, visit) =>
      say(socket, step, visit <= 2 ? { RCPT: "451 try later" } : {}),
    );
    const { outbox, wait, fill, states } = bench(port, 2);
    await fill();
    await outbox.sendDue();
    expect(states()).toEqual(["queued", "queued"]);
    await outbox.sendDue();
    expect(bodies).toEqual([]);
    wait(61);
    await outbox.sendDue();
    await outbox.sendDue();
    expect(states()).toEqual(["sent", "sent"]);
    expect(bodies.map((body) => /^Message-ID: (.*)$/m.exec(body)?.[1])).toEqual([
      "<m1@example.org>",
      "<m2@example.org>",
    ]);
  });

  it.each([
    ["dies after the whole message", (socket, step) => (step === "body" ? void socket.destroy() : say(socket, step))],
    ["hangs after the whole message", (socket, step) => (step === "body" ? undefined : say(socket, step))],
  ] as readonly (readonly [string, Speech])[])(
    "one that %s: uncertain, not sent again until the coach says so, and then once",
    async (_, speak) => {
      let well = false;
      const { port, bodies } = await server((socket, step, visit) =>
        well ? say(socket, step) : speak(socket, step, visit),
      );
      const { outbox, wait, fill, states } = bench(port);
      await fill();
      await outbox.sendDue();
      expect(states()).toEqual(["uncertain"]);
      wait(86_400);
      await outbox.sendDue();
      expect(bodies.length).toBe(1);
      well = true;
      expect((await outbox.sendAgain("m1")).ok).toBe(true);
      await outbox.sendDue();
      await outbox.sendDue();
      expect(states()).toEqual(["sent"]);
      expect(bodies.length).toBe(2);
    },
  );

  it("the program's own end cuts a hanging line at once, and that counts as no try", async () => {
    const stopping = new AbortController();
    const { port, bodies } = await server((socket, step) => {
      if (step === "RCPT") stopping.abort();
      else say(socket, step);
    });
    const { outbox, fill, states, attempts } = bench(port, 2);
    await fill();
    await outbox.sendDue(stopping.signal);
    expect(states()).toEqual(["queued", "queued"]);
    expect(attempts()).toEqual([0, 0]);
    expect(bodies).toEqual([]);
    await outbox.sendDue(stopping.signal);
    expect(attempts()).toEqual([0, 0]);
  });
});
