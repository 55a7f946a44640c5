import { type AddressInfo, type Server, type Socket, createServer } from "node:net";
import { SMTPServer } from "smtp-server";
import { afterEach, describe, expect, it } from "vitest";
import { type SmtpSettings, createSmtpSender } from "./smtp-sender.ts";

const ITEM = {
  messageId: "<m1@example.org>",
  message: {
    from: "coach@example.org",
    to: "mara@example.org",
    subject: "Für Mittwoch: 172 spm",
    text: "Läuf locker.\r\n.\r\nBcc: all@example.org\n\n.hidden dot",
  },
};
const closers: (() => void)[] = [];
afterEach(() => {
  for (const close of closers.splice(0)) close();
});

function settings(port: number): SmtpSettings {
  return { host: "127.0.0.1", port, encryption: "none", from: "coach@example.org" };
}

interface Taken {
  readonly from: string;
  readonly to: readonly string[];
  readonly raw: string;
}

/** A real SMTP server from the registry that keeps what it takes. */
async function takingServer(
  options: { readonly offersTls?: boolean } = {},
): Promise<{ readonly port: number; readonly taken: Taken[] }> {
  const taken: Taken[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: options.offersTls === true ? [] : ["STARTTLS"],
    onData(stream, session, done) {
      const parts: Buffer[] = [];
      stream.on("data", (part: Buffer) => parts.push(part));
      stream.on("end", () => {
        const { mailFrom, rcptTo } = session.envelope;
        taken.push({
          from: mailFrom === false ? "" : mailFrom.address,
          to: rcptTo.map(({ address }) => address),
          raw: Buffer.concat(parts).toString("utf8"),
        });
        done();
      });
    },
  });
  server.on("error", () => undefined);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  closers.push(() => server.close());
  return { port: (server.server.address() as AddressInfo).port, taken };
}

/** A server that speaks from a list: for each command the reply, or "drop" to cut the line. */
async function scriptedServer(
  script: Readonly<Record<string, string>>,
): Promise<{ readonly port: number; readonly seen: string[] }> {
  const seen: string[] = [];
  const server: Server = createServer((socket: Socket) => {
    const answer = (key: string): void => {
      const reply = script[key] ?? "250 fine";
      if (reply === "drop") socket.destroy();
      else socket.write(`${reply}\r\n`);
    };
    let inBody = false;
    let pending = "";
    socket.on("error", () => undefined);
    socket.on("data", (bytes) => {
      pending += bytes.toString("latin1");
      for (let at = pending.indexOf("\r\n"); at >= 0; at = pending.indexOf("\r\n")) {
        const line = pending.slice(0, at);
        pending = pending.slice(at + 2);
        if (inBody) {
          if (line !== ".") continue;
          inBody = false;
          seen.push("body");
          answer("body");
          continue;
        }
        const command = line.slice(0, 4).toUpperCase();
        seen.push(command);
        answer(command);
        inBody = command === "DATA" && (script["DATA"] ?? "").startsWith("354");
      }
    });
    answer("greeting");
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  closers.push(() => server.close());
  return { port: (server.address() as AddressInfo).port, seen };
}

const POLITE = { greeting: "220 ready", DATA: "354 go on" };

describe("sending over SMTP", () => {
  it("outside tool: a server from the registry takes one message with the stable Message-ID, subject and text whole", async () => {
    const { port, taken } = await takingServer();
    const outcome = await createSmtpSender(settings(port)).send(ITEM);
    expect(outcome).toMatchObject({ kind: "accepted" });
    expect(taken.length).toBe(1);
    const { from, to, raw } = taken[0]!;
    expect([from, to]).toEqual(["coach@example.org", ["mara@example.org"]]);
    const [head, body] = [raw.slice(0, raw.indexOf("\r\n\r\n")), raw.slice(raw.indexOf("\r\n\r\n") + 4)];
    expect(head).toContain("Message-ID: <m1@example.org>");
    expect(head).not.toMatch(/^bcc:/im);
    expect(head).toMatch(/^Subject: =\?UTF-8\?/m);
    const text = /base64/i.test(head)
      ? Buffer.from(body, "base64").toString("utf8")
      : Buffer.from(
          body
            .replaceAll(/=\r?\n/g, "")
            .replaceAll(/=([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16))),
          "latin1",
        ).toString("utf8");
    expect(text.replaceAll("\r\n", "\n").trimEnd()).toBe(ITEM.message.text.replaceAll("\r\n", "\n"));
  });

  it("header injection: line ends in subject, address or Message-ID reach no server as a header or a command", async () => {
    for (const change of [
      { message: { ...ITEM.message, subject: "x\r\nBcc: all@example.org" } },
      { message: { ...ITEM.message, to: "mara@example.org>\r\nRCPT TO:<all@example.org" } },
      { message: { ...ITEM.message, to: "mara@example.org, all@example.org" } },
      { messageId: "<m1@example.org>\r\nBcc: all@example.org" },
    ]) {
      const { port, taken } = await takingServer();
      await createSmtpSender(settings(port)).send({ ...ITEM, ...change });
      for (const { to, raw } of taken) {
        expect(to.length).toBe(1);
        expect(to[0]).not.toBe("all@example.org");
        expect(raw.slice(0, raw.indexOf("\r\n\r\n"))).not.toMatch(/^bcc:/im);
      }
    }
  });

  it.each([
    ["no greeting, line cut", { greeting: "drop" }, "not-now"],
    ["server closed for now", { greeting: "421 later" }, "not-now"],
    ["sender refused", { ...POLITE, MAIL: "550 not you" }, "refused"],
    ["recipient unknown", { ...POLITE, RCPT: "550 no such user" }, "refused"],
    ["recipient's box busy", { ...POLITE, RCPT: "450 busy" }, "not-now"],
    ["line cut at the recipient", { ...POLITE, RCPT: "drop" }, "not-now"],
    ["line cut before the body", { ...POLITE, DATA: "drop" }, "not-now"],
    ["body refused", { ...POLITE, body: "554 spam" }, "refused"],
    ["body not taken now", { ...POLITE, body: "451 later" }, "not-now"],
    ["line cut after the body", { ...POLITE, body: "drop" }, "unknown"],
    ["body accepted", { ...POLITE, body: "250 queued" }, "accepted"],
  ] as const)("%s", async (_, script, kind) => {
    const { port, seen } = await scriptedServer(script);
    const outcome = await createSmtpSender(settings(port)).send(ITEM);
    expect(outcome.kind).toBe(kind);
    expect(seen.filter((step) => step === "body").length).toBe("body" in script ? 1 : 0);
  });

  it("nobody at the port: not now", async () => {
    const { port } = await scriptedServer(POLITE);
    closers.pop()!();
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect((await createSmtpSender(settings(port)).send(ITEM)).kind).toBe("not-now");
  });

  it("STARTTLS that the server does not offer: neither password nor message goes out", async () => {
    const { port, seen } = await scriptedServer({ ...POLITE, STAR: "502 not here" });
    const sender = createSmtpSender({ ...settings(port), encryption: "starttls", user: "coach", password: "secret" });
    expect((await sender.send(ITEM)).kind).not.toBe("accepted");
    expect(seen.filter((step) => ["AUTH", "MAIL", "DATA", "body"].includes(step))).toEqual([]);
  });

  it("a certificate that nobody vouches for: neither password nor message goes out", async () => {
    const { port, taken } = await takingServer({ offersTls: true });
    const sender = createSmtpSender({ ...settings(port), encryption: "starttls", user: "coach", password: "secret" });
    const outcome = await sender.send(ITEM);
    expect(outcome.kind).toBe("not-now");
    expect(outcome).toMatchObject({ reason: expect.stringContaining("certificate") as string });
    expect(taken).toEqual([]);
  });

  it("settings that would send in the clear over a network, or from no address, are refused", () => {
    expect(() => createSmtpSender({ ...settings(25), host: "mail.example.org" })).toThrow(RangeError);
    expect(() => createSmtpSender({ ...settings(25), from: "Coach <coach@example.org>" })).toThrow(RangeError);
  });
});
