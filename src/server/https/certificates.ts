// A local authority and a certificate that it signs for this machine.
import "reflect-metadata";
import {
  AuthorityKeyIdentifierExtension,
  BasicConstraintsExtension,
  ExtendedKeyUsage,
  ExtendedKeyUsageExtension,
  Extension,
  KeyUsageFlags,
  KeyUsagesExtension,
  PemConverter,
  SubjectAlternativeNameExtension,
  SubjectKeyIdentifierExtension,
  X509Certificate,
  X509CertificateGenerator,
} from "@peculiar/x509";
import { webcrypto } from "node:crypto";
import { type AddressRange, nameConstraints } from "./name-constraints.ts";

const KEY = { name: "ECDSA", namedCurve: "P-256" } as const;
const SIGNING = { name: "ECDSA", hash: "SHA-256" } as const;
const NAME_CONSTRAINTS = "2.5.29.30";
const DAY_MS = 86_400_000;
/** A few days back, for phones whose clock is behind. */
const BACKDATE_MS = 2 * DAY_MS;

export interface KeyAndCertificate {
  /** PKCS #8 in PEM. */
  readonly keyPem: string;
  readonly certPem: string;
}

export interface AuthorityOptions {
  readonly now: Date;
  readonly days: number;
  /** Shown where the phone lists what it trusts. */
  readonly commonName: string;
  readonly dnsNames: readonly string[];
  readonly ranges: readonly AddressRange[];
}

export async function makeAuthority(options: AuthorityOptions): Promise<KeyAndCertificate> {
  const keys = await makeKeys();
  const certificate = await X509CertificateGenerator.createSelfSigned({
    serialNumber: serial(),
    name: `CN=${options.commonName}`,
    notBefore: new Date(options.now.getTime() - BACKDATE_MS),
    notAfter: new Date(options.now.getTime() + options.days * DAY_MS),
    signingAlgorithm: SIGNING,
    keys,
    extensions: [
      new BasicConstraintsExtension(true, 0, true),
      new KeyUsagesExtension(KeyUsageFlags.keyCertSign | KeyUsageFlags.cRLSign, true),
      await SubjectKeyIdentifierExtension.create(keys.publicKey),
      new Extension(NAME_CONSTRAINTS, true, nameConstraints(options.dnsNames, options.ranges)),
    ],
  });
  return { keyPem: await pemOf(keys.privateKey), certPem: certificate.toString("pem") };
}

export interface LeafOptions {
  readonly now: Date;
  readonly days: number;
  readonly dnsNames: readonly string[];
  readonly addresses: readonly string[];
}

/** For the server: only to prove who it is, only for these names. */
export async function makeLeaf(authority: KeyAndCertificate, options: LeafOptions): Promise<KeyAndCertificate> {
  const keys = await makeKeys();
  const issuer = new X509Certificate(authority.certPem);
  const signingKey = await webcrypto.subtle.importKey("pkcs8", PemConverter.decodeFirst(authority.keyPem), KEY, false, [
    "sign",
  ]);
  const certificate = await X509CertificateGenerator.create({
    serialNumber: serial(),
    subject: "CN=Spondee",
    issuer: issuer.subject,
    notBefore: new Date(options.now.getTime() - BACKDATE_MS),
    notAfter: new Date(options.now.getTime() + options.days * DAY_MS),
    signingAlgorithm: SIGNING,
    publicKey: keys.publicKey,
    signingKey,
    extensions: [
      new BasicConstraintsExtension(false, undefined, true),
      new KeyUsagesExtension(KeyUsageFlags.digitalSignature, true),
      new ExtendedKeyUsageExtension([ExtendedKeyUsage.serverAuth]),
      await SubjectKeyIdentifierExtension.create(keys.publicKey),
      await AuthorityKeyIdentifierExtension.create(issuer),
      new SubjectAlternativeNameExtension([
        ...options.dnsNames.map((value) => ({ type: "dns" as const, value })),
        ...options.addresses.map((value) => ({ type: "ip" as const, value })),
      ]),
    ],
  });
  return { keyPem: await pemOf(keys.privateKey), certPem: certificate.toString("pem") };
}

/** SHA-256 over the certificate, as people compare it: pairs of capitals with colons. */
export async function fingerprintOf(certPem: string): Promise<string> {
  const digest = new Uint8Array(await new X509Certificate(certPem).getThumbprint("SHA-256"));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0").toUpperCase()).join(":");
}

/** DER, as phones take it in. */
export function derOf(certPem: string): Uint8Array {
  return new Uint8Array(new X509Certificate(certPem).rawData);
}

export function expiryOf(certPem: string): Date {
  return new X509Certificate(certPem).notAfter;
}

function makeKeys() {
  return webcrypto.subtle.generateKey(KEY, true, ["sign", "verify"]);
}

async function pemOf(key: Parameters<typeof webcrypto.subtle.exportKey>[1]): Promise<string> {
  return PemConverter.encode(await webcrypto.subtle.exportKey("pkcs8", key), "PRIVATE KEY");
}

/** 16 random bytes, positive (RFC 5280, section 4.1.2.2). */
function serial(): string {
  const bytes = webcrypto.getRandomValues(new Uint8Array(16));
  bytes[0] = ((bytes[0] ?? 0) & 0x7f) | 0x40;
  return Buffer.from(bytes).toString("hex");
}
