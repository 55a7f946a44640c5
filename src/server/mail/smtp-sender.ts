// Hands one message to the coach's own mail server, and tells exactly how far it came.
import { isIP } from "node:net";
import { Readable } from "node:stream";
import MailComposer from "nodemailer/lib/mail-composer";
import SMTPConnection from "nodemailer/lib/smtp-connection";
import { isMailAddress } from "./mail-message.ts";
import { type MailItem, type MailSender, type SendOutcome } from "./mail-outbox.ts";

export interface SmtpSettings {
  readonly host: string;
  readonly port: number;
  /** `tls` from the first byte (port 465), `starttls` or nothing goes out (587), `none` only to this machine itself. */
  readonly encryption: "tls" | "starttls" | "none";
  readonly user?: string;
  readonly password?: string;
  /** The coach's own address. */
  readonly from: string;
}

/** How long a server may take before its line is cut. */
export interface SmtpLimits {
  readonly connectMs: number;
  readonly silenceMs: number;
  /** For one message in all: a server that drips bytes is never silent. Well below the outbox's SENDING_LIMIT_S. */
  readonly wholeMs: number;
}

const USUAL_LIMITS: SmtpLimits = { connectMs: 15_000, silenceMs: 60_000, wholeMs: 180_000 };

/** Throws RangeError for settings that would send a password or a message in the clear, or from no address. */
export function createSmtpSender(settings: SmtpSettings, limits: SmtpLimits = USUAL_LIMITS): MailSender {
  if (!isMailAddress(settings.from)) throw new RangeError("createSmtpSender: from must be one e-mail address");
  if (settings.encryption === "none" && !isLoopback(settings.host))
    throw new RangeError(
      `createSmtpSender: encryption "none" is for a mail server on this machine, not ${settings.host}`,
    );
  return { from: settings.from, send: (item, stopping) => sendOver(settings, item, { limits, stopping }) };
}

function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || (isIP(host) === 4 && host.startsWith("127."));
}

async function sendOver(
  settings: SmtpSettings,
  item: Pick<MailItem, "messageId" | "message">,
  { limits, stopping }: { readonly limits: SmtpLimits; readonly stopping: AbortSignal | undefined },
): Promise<SendOutcome> {
  const { from, to } = item.message;
  const connection = new SMTPConnection({
    host: settings.host,
    port: settings.port,
    secure: settings.encryption === "tls",
    requireTLS: settings.encryption === "starttls",
    ignoreTLS: settings.encryption === "none",
    connectionTimeout: limits.connectMs,
    greetingTimeout: limits.connectMs,
    socketTimeout: limits.silenceMs,
  });
  let handedOver = false;
  let cutOff: NodeJS.Timeout | undefined;
  let cut: (() => void) | undefined;
  try {
    const bytes = await compose(item);
    // The library reads the body only once the server has asked for it, after which its fate is the server's.
    const body = new Readable({
      read() {
        handedOver = true;
        this.push(bytes);
        this.push(null);
      },
    });
    const reply = await new Promise<string>((resolve, reject) => {
      // Kept on: an error that comes after the answer must not end the program.
      connection.on("error", reject);
      connection.on("end", () => reject(new Error("The connection ended")));
      const whole = `The server took longer than ${limits.wholeMs / 1000} s`;
      cutOff = setTimeout(() => reject(new Error(whole)), limits.wholeMs);
      cut = () => reject(new Error("The program is ending"));
      stopping?.addEventListener("abort", cut, { once: true });
      if (stopping?.aborted === true) cut();
      const send = (): void =>
        connection.send({ from, to: [to] }, body, (error, info) => {
          if (error) reject(error);
          else resolve(info.response);
        });
      connection.connect((error) => {
        if (error) reject(error);
        else if (settings.user === undefined) send();
        else
          connection.login({ user: settings.user, pass: settings.password ?? "" }, (refused) => {
            if (refused) reject(refused);
            else send();
          });
      });
    });
    connection.quit();
    return { kind: "accepted", reply };
  } catch (error) {
    connection.close();
    return outcomeOf(error, handedOver);
  } finally {
    clearTimeout(cutOff);
    if (cut !== undefined) stopping?.removeEventListener("abort", cut);
  }
}

/** Encoded headers and text; line ends in a header are the library's to refuse, after ours did. */
function compose({ messageId, message }: Pick<MailItem, "messageId" | "message">): Promise<Buffer> {
  return new MailComposer({
    ...message,
    messageId,
    disableFileAccess: true,
    disableUrlAccess: true,
  })
    .compile()
    .build();
}

function outcomeOf(error: unknown, handedOver: boolean): SendOutcome {
  const reason = error instanceof Error ? error.message : String(error);
  const { responseCode } = error as { readonly responseCode?: unknown };
  // A server's own answer is final (RFC 5321, 4.2.1): 5yz no, 4yz not now.
  if (typeof responseCode === "number" && responseCode >= 500) return { kind: "refused", reason };
  if (typeof responseCode === "number" && responseCode >= 400) return { kind: "not-now", reason };
  return handedOver ? { kind: "unknown", reason } : { kind: "not-now", reason, away: true };
}
