// spondee serve: the desk and the phone page, on this machine.
import path from "node:path";
import { fileURLToPath } from "node:url";
import type { Command } from "../command.ts";
import { forPhones, httpsWords, makeLocalHttps } from "../own-https.ts";
import { dataFolder, dataOption, refusing } from "../data-folder.ts";

export const serveCommand: Command = {
  name: "serve",
  summary: "the coach's desk and the runner's phone page, on this machine",
  usage: "[--port N] [--data DIR] [--host H] [--https] [--demo]",
  options: {
    port: { value: "N", help: "port to listen on (default 7411; 0 takes a free one)" },
    ...dataOption,
    host: { value: "H", help: "address to listen on (default this machine only)" },
    demo: { help: "on the first start, fill in an invented demo group" },
    "public-origin": { value: "URL", help: "the https address of a proxy in front of it" },
    https: { help: "own certificate for phones in this network; listens on it and shows how to trust it" },
    log: { help: "structured log lines on stderr" },
  },
  notes: "SPONDEE_DATABASE_URL keeps the data in PostgreSQL instead of the data folder. Ctrl+C stops it.",
  async run({ options, outside, json }) {
    const { serveTrustPage, startServer } = await import("../../server/index.ts");
    const dataDir = dataFolder(options);
    const publicOrigin = options.text("public-origin");
    // With a certificate of its own the point is the network; without, this machine only.
    const host = options.text("host") ?? (options.flag("https") ? "0.0.0.0" : undefined);
    const local = options.flag("https") ? await makeLocalHttps(dataDir, new Date(outside.now())) : undefined;
    const port = options.numberIn("port", 0, 65_535, "a port");
    const databaseUrl = outside.environment["SPONDEE_DATABASE_URL"];
    const mailKey = outside.environment["SPONDEE_MAIL_KEY"];
    const metricsToken = outside.environment["SPONDEE_METRICS_TOKEN"];
    if (options.flag("demo"))
      outside.say("Starting; the first start fills in an invented demo group, which takes a few seconds.");
    const server = await refusing(() =>
      startServer({
        dataDir,
        pagesDir: path.resolve(path.dirname(fileURLToPath(import.meta.url)), ".."),
        demo: options.flag("demo"),
        ...(host === undefined ? {} : { host }),
        ...(port === undefined ? {} : { port }),
        ...(publicOrigin === undefined ? {} : { publicOrigin }),
        ...(local === undefined ? {} : { https: { key: local.https.key, cert: local.https.cert } }),
        ...(databaseUrl === undefined ? {} : { databaseUrl }),
        ...(metricsToken === undefined ? {} : { metricsToken }),
        ...(mailKey === undefined ? {} : { mailKey }),
        ...(options.flag("log") ? { logLine: (line: string) => outside.say(line) } : {}),
      }),
    );
    const shown = <T extends string | null>(printed: T) =>
      printed === null || local === undefined ? printed : forPhones(printed, local.address);
    const { demoSeeded } = server;
    const address = shown(server.address) ?? server.address;
    const [signInAddress, setupAddress] = [shown(server.signInAddress), shown(server.setupAddress)];
    const guide =
      local === undefined
        ? undefined
        : await serveTrustPage(
            { ...local.https, httpsAddress: address },
            {
              host: host ?? "0.0.0.0",
              port: port === 0 ? 0 : Number(new URL(address).port) + 1,
              shownHost: local.address ?? "127.0.0.1",
            },
          ).catch(async (error: unknown) => {
            await server.stop();
            throw error;
          });
    const open = signInAddress ?? setupAddress ?? address;
    outside.print(
      json
        ? `${JSON.stringify({ address, signInAddress, setupAddress, demoSeeded, dataDir, guideAddress: guide?.address ?? null, fingerprint: local?.https.fingerprint ?? null })}\n`
        : [
            ...(demoSeeded ? ["The demo group is invented: nobody in it exists. It can be removed in one click."] : []),
            `Open  ${open}`,
            ...(open === address ? [] : ["      (this address signs you in once; keep it to yourself)"]),
            ...(local === undefined || guide === undefined
              ? []
              : httpsWords({ ...local.https, guideAddress: guide.address })),
            `Data  ${databaseUrl === undefined ? dataDir : "PostgreSQL"}`,
            "Stop  Ctrl+C",
            "",
          ].join("\n"),
    );
    await outside.untilAskedToStop();
    await guide?.stop();
    await server.stop();
    return { json: undefined, text: "" };
  },
};
