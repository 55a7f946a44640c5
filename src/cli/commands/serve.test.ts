import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runCli } from "../../../tests/run-cli.ts";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), "spondee-cli-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const inFolder = (name: string) => path.join(folder, name);

describe("spondee serve", () => {
  test("listens, prints where to open it, and stops when asked; --json is one JSON document", async () => {
    const run = await runCli(["serve", "--port", "0", "--data", inFolder("data"), "--json"]);
    expect(run.exitCode).toBe(0);
    const { address, setupAddress } = JSON.parse(run.stderr) as { address: string; setupAddress: string | null };
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    expect(setupAddress).toContain("#setup=");
    expect(existsSync(inFolder("data/spondee.sqlite"))).toBe(true);
  });

  test("a taken port ends with 3 and a way out", async () => {
    const taken = net.createServer();
    await new Promise<void>((resolve) => taken.listen(0, "127.0.0.1", resolve));
    const { port } = taken.address() as net.AddressInfo;
    const run = await runCli(["serve", "--port", String(port), "--data", inFolder("data")]);
    await new Promise((resolve) => taken.close(resolve));
    expect(run.exitCode).toBe(3);
    expect(run.stderr).toMatch(new RegExp(`${port}.*taken`));
  });

  test("listening wider than this machine without HTTPS is refused with an explanation", async () => {
    const run = await runCli(["serve", "--port", "0", "--host", "0.0.0.0", "--data", inFolder("data")]);
    expect(run.exitCode).toBe(3);
    expect(run.stderr).toContain("HTTPS");
  });

  test("a data folder that cannot be made ends with 3", async () => {
    writeFileSync(inFolder("file"), "");
    const run = await runCli(["serve", "--port", "0", "--data", inFolder("file/below")]);
    expect(run.exitCode).toBe(3);
    expect(run.stderr).toContain("--data");
  });
});

describe("spondee backup, restore and check-data", () => {
  test("a backup goes back into an empty folder and is sound; nothing is overwritten unasked", async () => {
    const backup = inFolder("copy.sqlite");
    expect((await runCli(["backup", backup, "--data", inFolder("data")])).exitCode).toBe(0);
    expect((await runCli(["backup", backup, "--data", inFolder("data")])).exitCode).toBe(3);
    expect((await runCli(["restore", backup, "--data", inFolder("second")])).exitCode).toBe(0);
    expect((await runCli(["restore", backup, "--data", inFolder("second")])).exitCode).toBe(3);
    const check = await runCli(["check-data", "--data", inFolder("second"), "--json"]);
    expect(check.json<{ faults: string[] }>()).toEqual({ faults: [] });
  });

  test("a file that is no backup is refused and leaves nothing behind", async () => {
    writeFileSync(inFolder("junk.sqlite"), "not a database");
    const run = await runCli(["restore", inFolder("junk.sqlite"), "--data", inFolder("third")]);
    expect(run.exitCode).toBe(3);
    expect(existsSync(inFolder("third/spondee.sqlite"))).toBe(false);
  });

  test("a folder without data ends with 3", async () => {
    for (const words of [["backup", inFolder("x")], ["check-data"]]) {
      expect((await runCli([...words, "--data", inFolder("nothing-here")])).exitCode).toBe(3);
    }
  });
});
