// `serve --https`: the certificate before the server starts, the page that leads phones to it afterwards.
import type { OwnHttps } from "../server/index.ts";

export interface LocalHttps {
  readonly https: OwnHttps;
  /** The address that phones in the network use; undefined without a network. */
  readonly address: string | undefined;
}

export async function makeLocalHttps(dataDir: string, now: Date): Promise<LocalHttps> {
  const { prepareOwnHttps, readOwnNames } = await import("../server/index.ts");
  const own = readOwnNames();
  const address = own.addresses[0];
  return {
    https: await prepareOwnHttps({ dataDir, now, own }),
    address: address?.includes(":") === true ? `[${address}]` : address,
  };
}

/** An address that was printed for this machine, as a phone in the network must call it. */
export function forPhones(printed: string, address: string | undefined): string {
  return address === undefined
    ? printed
    : printed.replace(/^https:\/\/(127\.0\.0\.1|localhost|0\.0\.0\.0|\[::1?\])(?=[:/]|$)/, `https://${address}`);
}

/** What is said about it when the server has started. */
export function httpsWords(facts: {
  readonly guideAddress: string;
  readonly fingerprint: string;
  readonly authorityIsNew: boolean;
}): readonly string[] {
  return [
    `Trust ${facts.guideAddress}  once on each phone and computer${facts.authorityIsNew ? "; this authority is new" : ""}`,
    `      fingerprint ${facts.fingerprint}`,
  ];
}
