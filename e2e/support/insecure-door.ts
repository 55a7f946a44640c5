// The same server by a plain http name, as a phone in a network without a trusted certificate would reach it: a door on loopback
// that forwards with the server's own host name.
import { createServer, request } from "node:http";
import type { AddressInfo } from "node:net";

export interface InsecureDoor {
  readonly port: number;
  close(): Promise<void>;
}

export async function openInsecureDoor(origin: string): Promise<InsecureDoor> {
  const { host, hostname, port } = new URL(origin);
  const door = createServer((incoming, outgoing) => {
    const headers = { ...incoming.headers, host };
    if (headers.origin !== undefined) headers.origin = origin;
    const forward = request({ hostname, port, method: incoming.method, path: incoming.url, headers }, (answer) => {
      outgoing.writeHead(answer.statusCode ?? 502, answer.headers);
      answer.pipe(outgoing);
    });
    forward.on("error", () => outgoing.destroy());
    incoming.pipe(forward);
  });
  await new Promise<void>((resolve) => door.listen(0, "127.0.0.1", resolve));
  return {
    port: (door.address() as AddressInfo).port,
    close: () =>
      new Promise((done) => {
        door.close(() => done());
        door.closeAllConnections();
      }),
  };
}
