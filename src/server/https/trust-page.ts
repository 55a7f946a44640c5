// The plain page that leads a phone through trusting this machine's authority. It is served without HTTPS, because before
// trusting there is none; it holds nothing but the authority's public certificate and these words.
import { createServer, type Server } from "node:http";
import { renderSVG } from "uqr";
import { derOf } from "./certificates.ts";

export interface TrustPageFacts {
  readonly authorityPem: string;
  readonly fingerprint: string;
  /** Where phones reach the server, "https://192.168.1.20:7411". */
  readonly httpsAddress: string;
  /** Where they reach this page. */
  readonly ownAddress: string;
}

const STYLE = `
:root { color-scheme: light dark; --paper: light-dark(#fbf9f5, #161418); --ink: light-dark(#211d1a, #ece7e1); --plum: light-dark(#6a2459, #dfa5cf); --edge: light-dark(#857e74, #7f7986); }
body { max-width: 36rem; margin: 0 auto; padding: 1rem; background: var(--paper); color: var(--ink); font: 1.0625rem/1.5 system-ui, sans-serif; }
h1 { font-size: 1.6rem; line-height: 1.2; }
h2 { font-size: 1.1rem; margin-top: 2rem; }
li { margin-bottom: .5rem; }
a { color: var(--plum); }
.go { display: block; min-height: 3rem; padding: .75rem 1rem; background: var(--plum); color: light-dark(#fdf8fb, #24101e); text-align: center; text-decoration: none; border-radius: 3px; }
code { overflow-wrap: anywhere; font-size: 1rem; }
svg { display: block; width: 14rem; height: 14rem; border: 1rem solid #fff; }
`;

export function trustPage(facts: TrustPageFacts): string {
  const { fingerprint, httpsAddress, ownAddress } = facts;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Let this phone trust your coach's machine</title>
<link rel="stylesheet" href="/trust.css">
</head>
<body>
<main>
<h1>Let this phone trust your coach's machine</h1>
<p>Browsers count steps, keep the screen on and work without a signal only on a connection that they trust. This is done once on each phone.</p>
<h2>Scan this with the phone</h2>
<p>The phone has to be in the same network.</p>
${renderSVG(ownAddress)}
<p><code>${ownAddress}</code></p>
<h2>What it means</h2>
<p>The phone will believe that this one machine is who it says, when it calls itself by its own name or by an address of a local network. It cannot vouch for any other site: banks, mail and the rest stay as they are. Whoever had the key file on the coach's machine could pretend to be this machine in a local network, and nothing more.</p>
<h2>Step by step</h2>
<ol>
<li>Compare. On the coach's machine Spondee printed a fingerprint when it started. It must be the same as this one; if not, stop here:<br><code>${fingerprint}</code></li>
<li><a class="go" href="/spondee-authority.crt">Get the certificate</a></li>
<li>Tell the phone to trust it. Which way depends on the phone:<br>
<strong>It asks to allow a profile</strong>: allow it. Settings, “Profile downloaded”, Install. Then Settings, General, About, Certificate Trust Settings: switch on “Spondee on …”.<br>
<strong>It only downloads a file</strong>: Settings, Security (or “Security and privacy”, more), Encryption and credentials, Install a certificate, CA certificate, Install anyway, choose the file from the downloads.<br>
<strong>A computer</strong>: the browser's settings, certificates, authorities, import; trust it for web sites.</li>
<li><a class="go" href="${httpsAddress}/run/">Try it</a> It must open without a warning. Then open the link from your coach.</li>
</ol>
<h2>Taking it back</h2>
<p><strong>Installed as a profile</strong>: Settings, General, VPN and device management, the profile “Spondee on …”, Remove.<br>
<strong>Installed from a file</strong>: Settings, Security, Encryption and credentials, User credentials (or Trusted credentials, User), remove it.<br>
On the coach's machine, deleting the folder <code>https</code> in the data folder ends this authority for good; the next start makes another.</p>
<p>Runners far away are better served with a real certificate: see docs/pocket.md.</p>
</main>
</body>
</html>
`;
}

/** Listens for the page's three addresses and nothing else. Resolves with the port. */
export function serveTrustPage(
  facts: Omit<TrustPageFacts, "ownAddress">,
  listen: { readonly host: string; readonly port: number; readonly shownHost: string },
): Promise<{ readonly address: string; stop(): Promise<void> }> {
  let address = "";
  const server: Server = createServer((request, response) => {
    const path = (request.url ?? "/").split("?")[0];
    const found =
      path === "/"
        ? { type: "text/html; charset=utf-8", body: trustPage({ ...facts, ownAddress: address }) }
        : path === "/trust.css"
          ? { type: "text/css; charset=utf-8", body: STYLE }
          : path === "/spondee-authority.crt"
            ? { type: "application/x-x509-ca-cert", body: derOf(facts.authorityPem) }
            : undefined;
    if (found === undefined || (request.method !== "GET" && request.method !== "HEAD")) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, {
      "content-type": found.type,
      "content-security-policy": "default-src 'none'; style-src 'self'; frame-ancestors 'none'; base-uri 'none'",
      "x-content-type-options": "nosniff",
      "referrer-policy": "no-referrer",
      "cache-control": "no-store",
    });
    response.end(request.method === "HEAD" ? undefined : found.body);
  });
  server.headersTimeout = 10_000;
  server.requestTimeout = 10_000;
  server.maxConnections = 100;
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(listen.port, listen.host, () => {
      const place = server.address();
      address = `http://${listen.shownHost}:${typeof place === "object" && place !== null ? place.port : listen.port}`;
      resolve({
        address,
        stop: () =>
          new Promise((done) => {
            server.close(() => done());
            server.closeAllConnections();
          }),
      });
    });
  });
}
