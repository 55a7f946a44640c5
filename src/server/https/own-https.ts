// `--https`: the authority is made once and kept; the certificate is made anew when the machine's names or addresses change, or
// it nears its end. Keys lie in the data folder, readable by their owner only, and never leave it.
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expiryOf, fingerprintOf, type KeyAndCertificate, makeAuthority, makeLeaf } from "./certificates.ts";
import { inRanges, LOCAL_RANGES } from "./name-constraints.ts";
import type { OwnNames } from "./own-names.ts";

/** Phones take a certificate below an authority that their owner added for at most 825 days; browsers ask for 398. */
const LEAF_DAYS = 397;
const AUTHORITY_DAYS = 3 * 365;
const RENEW_BEFORE_MS = 30 * 86_400_000;

export interface OwnHttps {
  readonly key: string;
  /** The certificate and its authority's, as a chain. */
  readonly cert: string;
  readonly authorityPem: string;
  readonly fingerprint: string;
  /** The authority is new: phones that trusted an older one must trust this one. */
  readonly authorityIsNew: boolean;
}

interface Kept {
  readonly dnsNames: readonly string[];
  readonly addresses: readonly string[];
}

export async function prepareOwnHttps(options: {
  readonly dataDir: string;
  readonly now: Date;
  readonly own: OwnNames;
}): Promise<OwnHttps> {
  const { now, own } = options;
  const folder = join(options.dataDir, "https");
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const soon = new Date(now.getTime() + RENEW_BEFORE_MS);
  const addresses = ["127.0.0.1", "::1", ...own.addresses];

  const covered = readNames(folder, "authority");
  let authority = readPair(folder, "authority");
  const mustCover = own.addresses.filter((address) => !inRanges(address, LOCAL_RANGES));
  const good =
    authority !== undefined &&
    expiryOf(authority.certPem) > soon &&
    own.dnsNames.every((name) => covered.dnsNames.includes(name)) &&
    mustCover.every((address) => covered.addresses.includes(address));
  const authorityIsNew = !good;
  if (!good || authority === undefined) {
    const ranges = [
      ...LOCAL_RANGES,
      ...mustCover.map((address) => ({ address, prefix: address.includes(":") ? 128 : 32 })),
    ];
    authority = await makeAuthority({
      now,
      days: AUTHORITY_DAYS,
      commonName: `Spondee on ${own.dnsNames[0] ?? "this machine"}`,
      dnsNames: own.dnsNames,
      ranges,
    });
    write(folder, "authority", authority, { dnsNames: own.dnsNames, addresses: mustCover });
  }

  const named = readNames(folder, "server");
  let leaf = readPair(folder, "server");
  const fits =
    !authorityIsNew &&
    leaf !== undefined &&
    expiryOf(leaf.certPem) > soon &&
    JSON.stringify(named) === JSON.stringify({ dnsNames: own.dnsNames, addresses });
  if (!fits || leaf === undefined) {
    leaf = await makeLeaf(authority, { now, days: LEAF_DAYS, dnsNames: own.dnsNames, addresses });
    write(folder, "server", leaf, { dnsNames: own.dnsNames, addresses });
  }
  return {
    key: leaf.keyPem,
    cert: `${leaf.certPem}\n${authority.certPem}\n`,
    authorityPem: authority.certPem,
    fingerprint: await fingerprintOf(authority.certPem),
    authorityIsNew,
  };
}

function readPair(folder: string, name: string): KeyAndCertificate | undefined {
  const [key, cert] = [join(folder, `${name}.key`), join(folder, `${name}.crt`)];
  if (!existsSync(key) || !existsSync(cert)) return undefined;
  return { keyPem: readFileSync(key, "utf8"), certPem: readFileSync(cert, "utf8") };
}

function readNames(folder: string, name: string): Kept {
  const file = join(folder, `${name}.json`);
  return existsSync(file) ? (JSON.parse(readFileSync(file, "utf8")) as Kept) : { dnsNames: [], addresses: [] };
}

function write(folder: string, name: string, pair: KeyAndCertificate, kept: Kept): void {
  const key = join(folder, `${name}.key`);
  writeFileSync(key, pair.keyPem, { mode: 0o600 });
  // The mode above counts only for a new file.
  chmodSync(key, 0o600);
  writeFileSync(join(folder, `${name}.crt`), pair.certPem);
  writeFileSync(join(folder, `${name}.json`), JSON.stringify(kept));
}
