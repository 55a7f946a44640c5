// Where messages go, through which server, and how far each one came.

/** id is the runner's. */
export interface MailAddressTable {
  id: string;
  runnerId: string;
  address: string;
}

/** One coach's own mail server. The password is sealed with a key that is not in the database. */
export interface MailServerTable {
  accountId: string;
  host: string;
  port: number;
  encryption: "tls" | "starttls" | "none";
  userName: string | null;
  sealedPassword: string | null;
  fromAddress: string;
  changedAt: string;
}

export interface MailItemTable {
  id: string;
  /** Asking twice with one key is asking once. */
  mailKey: string;
  accountId: string;
  groupId: string;
  runnerId: string;
  messageId: string;
  /** from, to, subject, text. */
  messageJson: string;
  createdAt: string;
  attempts: number;
  status: "queued" | "sending" | "sent" | "failed" | "uncertain";
  /** Of the state: not before, since, or at. */
  stateAt: string;
  stateJson: string;
  version: number;
}
