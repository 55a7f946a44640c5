// A server in a process of its own, for tests that kill it. Reads its options from the environment, tells its address.
import { startServer } from "../src/server/index.ts";

const { SPONDEE_CHILD_DATA: dataDir = "", SPONDEE_CHILD_URL: databaseUrl } = process.env;
const server = await startServer({
  dataDir,
  port: 0,
  logLine: (line) => process.stderr.write(`${line}\n`),
  ...(databaseUrl === undefined || databaseUrl === "" ? {} : { databaseUrl }),
});
process.stdout.write(`${JSON.stringify({ address: server.address, setupCode: server.setupCode })}\n`);
process.on("SIGTERM", () => {
  void server.stop().then(() => {
    process.exitCode = 0;
    process.disconnect?.();
  });
});
