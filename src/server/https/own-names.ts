// By which names and addresses this machine may be called in its network.
import { hostname, networkInterfaces } from "node:os";

export interface OwnNames {
  readonly dnsNames: readonly string[];
  /** Addresses that other machines can use, IPv4 first. */
  readonly addresses: readonly string[];
}

export function readOwnNames(): OwnNames {
  const host = hostname()
    .toLowerCase()
    .replace(/[^a-z0-9.-]/g, "");
  const addresses = Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    // A link-local IPv6 address needs a zone, which no certificate and no QR code can carry.
    .filter((entry) => !entry.internal && !entry.address.toLowerCase().startsWith("fe80"))
    .sort((a, b) => a.family.localeCompare(b.family))
    .map((entry) => entry.address.toLowerCase());
  const bare = host.split(".")[0] ?? "";
  const dnsNames = host === "" ? [] : [...new Set([host, `${bare}.local`])];
  return { dnsNames: [...dnsNames, "localhost"], addresses: [...new Set(addresses)] };
}
