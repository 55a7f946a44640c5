import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { get } from "node:http";
import { type AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { checkServerIdentity, connect, createServer, type Server } from "node:tls";
import { afterEach, describe, expect, it } from "vitest";
import { makeAuthority, makeLeaf } from "./certificates.ts";
import { addressBytes, inRanges, LOCAL_RANGES } from "./name-constraints.ts";
import { prepareOwnHttps } from "./own-https.ts";
import { serveTrustPage } from "./trust-page.ts";

const NOW = new Date();
const OWN = { dnsNames: ["track-laptop", "track-laptop.local", "localhost"], addresses: ["192.168.7.20", "fd12::5"] };

const folders: string[] = [];
const servers: Server[] = [];
afterEach(() => {
  for (const server of servers.splice(0)) server.close();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

function folder(): string {
  const made = mkdtempSync(join(tmpdir(), "spondee-https-"));
  folders.push(made);
  return made;
}

/** A TLS handshake with a client that trusts the authority and asks for this name: undefined, or what it objects to. */
async function objection(pair: { key: string; cert: string }, authorityPem: string, name: string) {
  const server = createServer(pair, (socket) => {
    socket.on("error", () => undefined);
    socket.end();
  });
  servers.push(server);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  return new Promise<string | undefined>((resolve) => {
    const socket = connect(
      {
        port,
        host: "127.0.0.1",
        ca: authorityPem,
        ...(/[^\d.]/.test(name) ? { servername: name } : {}),
        checkServerIdentity: (_, certificate) => checkServerIdentity(name, certificate),
      },
      () => {
        socket.destroy();
        resolve(undefined);
      },
    );
    socket.on("error", (error: NodeJS.ErrnoException) => resolve(error.code ?? error.message));
  });
}

describe("own HTTPS", () => {
  it("outside tool: the runtime's TLS accepts the machine by each of its names and by its loopback address", async () => {
    const own = await prepareOwnHttps({ dataDir: folder(), now: NOW, own: OWN });
    for (const name of [...OWN.dnsNames, "127.0.0.1"])
      expect(await objection(own, own.authorityPem, name), name).toBeUndefined();
    expect(await objection(own, own.authorityPem, "elsewhere.example")).toBe("ERR_TLS_CERT_ALTNAME_INVALID");
  });

  it("outside tool: a certificate for the wide world below this authority is refused (RFC 5280, 4.2.1.10)", async () => {
    const authority = await makeAuthority({
      now: NOW,
      days: 10,
      commonName: "Spondee on track-laptop",
      dnsNames: OWN.dnsNames,
      ranges: LOCAL_RANGES,
    });
    const good = await makeLeaf(authority, { now: NOW, days: 5, dnsNames: ["track-laptop"], addresses: ["10.1.2.3"] });
    const forged = await makeLeaf(authority, { now: NOW, days: 5, dnsNames: ["bank.example"], addresses: [] });
    const far = await makeLeaf(authority, {
      now: NOW,
      days: 5,
      dnsNames: ["track-laptop"],
      addresses: ["203.0.113.9"],
    });
    // The runtime has no name of its own for "permitted subtree violation"; a good name shows that nothing else is wrong.
    const chain = (leaf: typeof good) => ({ key: leaf.keyPem, cert: `${leaf.certPem}\n${authority.certPem}` });
    expect(await objection(chain(good), authority.certPem, "track-laptop")).toBeUndefined();
    expect(await objection(chain(forged), authority.certPem, "bank.example")).toBe("UNSPECIFIED");
    expect(await objection(chain(far), authority.certPem, "track-laptop")).toBe("UNSPECIFIED");
  });

  it("keeps the authority, and signs anew only when the machine is called otherwise or the end is near", async () => {
    const dataDir = folder();
    const first = await prepareOwnHttps({ dataDir, now: NOW, own: OWN });
    expect(first.authorityIsNew).toBe(true);
    const again = await prepareOwnHttps({ dataDir, now: NOW, own: OWN });
    expect(again).toEqual({ ...first, authorityIsNew: false });
    const moved = await prepareOwnHttps({ dataDir, now: NOW, own: { ...OWN, addresses: ["192.168.8.31"] } });
    expect(moved.authorityPem).toBe(first.authorityPem);
    expect(moved.cert).not.toBe(first.cert);
    const later = new Date(NOW.getTime() + 380 * 86_400_000);
    const renewed = await prepareOwnHttps({ dataDir, now: later, own: { ...OWN, addresses: ["192.168.8.31"] } });
    expect(renewed.authorityPem).toBe(first.authorityPem);
    expect(renewed.cert).not.toBe(moved.cert);
    // An address outside the local ranges needs an authority that may vouch for it.
    const campus = await prepareOwnHttps({ dataDir, now: NOW, own: { ...OWN, addresses: ["198.51.100.4"] } });
    expect(campus).toMatchObject({ authorityIsNew: true });
    expect(await objection(campus, campus.authorityPem, "localhost")).toBeUndefined();
  });

  it("the keys are for their owner only", async () => {
    const dataDir = folder();
    await prepareOwnHttps({ dataDir, now: NOW, own: OWN });
    for (const name of ["authority.key", "server.key"])
      expect(statSync(join(dataDir, "https", name)).mode & 0o777).toBe(0o600);
  });

  it("closed form: addresses and ranges", () => {
    expect(addressBytes("192.168.7.20")).toEqual([192, 168, 7, 20]);
    expect(addressBytes("fd12::5")).toEqual([0xfd, 0x12, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 5]);
    expect(addressBytes("::1")).toEqual([...Array.from({ length: 15 }, () => 0), 1]);
    for (const inside of ["10.255.0.1", "172.31.255.255", "192.168.0.1", "fd12::5", "fe80::1", "127.0.0.1"])
      expect(inRanges(inside, LOCAL_RANGES), inside).toBe(true);
    for (const outside of ["11.0.0.1", "172.32.0.1", "192.169.0.1", "8.8.8.8", "2001:db8::1", "::2"])
      expect(inRanges(outside, LOCAL_RANGES), outside).toBe(false);
  });

  it("outside tool: openssl verifies the chain and reads the constraints", async (context) => {
    try {
      execFileSync("openssl", ["version"], { stdio: "ignore" });
    } catch {
      context.skip();
    }
    const dataDir = folder();
    const own = await prepareOwnHttps({ dataDir, now: NOW, own: OWN });
    const [authority, leaf] = [join(dataDir, "a.pem"), join(dataDir, "l.pem")];
    writeFileSync(authority, own.authorityPem);
    writeFileSync(leaf, readFileSync(join(dataDir, "https", "server.crt")));
    const said = execFileSync("openssl", ["verify", "-x509_strict", "-CAfile", authority, leaf]).toString();
    expect(said).toMatch(/OK\s*$/);
    const text = execFileSync("openssl", ["x509", "-in", authority, "-noout", "-text"]).toString();
    expect(text).toMatch(/Name Constraints: critical/);
    expect(text).toContain("DNS:track-laptop.local");
    expect(text).toContain("IP:192.168.0.0/255.255.0.0");
    expect(text).toMatch(/CA:TRUE, pathlen:0/);
  });
});

describe("the page that leads to it", () => {
  it("serves the words, the certificate and nothing else", async () => {
    const own = await prepareOwnHttps({ dataDir: folder(), now: NOW, own: OWN });
    const page = await serveTrustPage(
      { ...own, httpsAddress: "https://192.168.7.20:7411" },
      { host: "127.0.0.1", port: 0, shownHost: "127.0.0.1" },
    );
    const read = (path: string) =>
      new Promise<{ status: number; type: string; body: Buffer }>((resolve) =>
        get(page.address + path, (answer) => {
          const parts: Buffer[] = [];
          answer.on("data", (part: Buffer) => parts.push(part));
          answer.on("end", () =>
            resolve({
              status: answer.statusCode ?? 0,
              type: String(answer.headers["content-type"]),
              body: Buffer.concat(parts),
            }),
          );
        }),
      );
    try {
      const words = await read("/");
      expect(words.status).toBe(200);
      for (const said of [own.fingerprint, page.address, "https://192.168.7.20:7411/run/", "Taking it back", "<svg"])
        expect(words.body.toString()).toContain(said);
      const certificate = await read("/spondee-authority.crt");
      expect(certificate.type).toBe("application/x-x509-ca-cert");
      const pem = own.authorityPem.replace(/-----[^-]+-----|\s/g, "");
      expect(certificate.body.toString("base64")).toBe(pem);
      for (const path of ["/https/authority.key", "/../authority.key", "/api/session", "/run/"])
        expect((await read(path)).status).toBe(404);
      expect(words.body.toString() + own.cert).not.toContain("PRIVATE KEY");
    } finally {
      await page.stop();
    }
  });
});
