// What the README promises: its commands run, its links and pictures are there.
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { realOutside } from "../src/cli/outside.ts";
import { commands } from "../src/cli/commands.ts";
import { runCommandLine } from "../src/cli/run-command.ts";

const root = path.resolve(import.meta.dirname, "..");
const readme = readFileSync(path.join(root, "README.md"), "utf8");
const scripts = (
  JSON.parse(readFileSync(path.join(root, "package.json"), "utf8")) as { scripts: Record<string, string> }
).scripts;
const shellLines = [...readme.matchAll(/```sh\n([\s\S]*?)```/g)].flatMap(([, block]) => block!.trim().split("\n"));

describe("README", () => {
  test("the job comes first, the two commands right after it", () => {
    expect(shellLines.slice(0, 2)).toEqual(["npm start", "npm test"]);
    expect(readme.indexOf("npm start")).toBeLessThan(1200);
  });

  test.each(shellLines.filter((line) => line.startsWith("npm ")))("%s is a script of the package", (line) => {
    expect(Object.keys(scripts)).toContain(line.replace(/^npm (run )?/, ""));
  });

  test.each(shellLines.filter((line) => line.startsWith("npx spondee ")))("%s", async (line) => {
    const folder = mkdtempSync(path.join(os.tmpdir(), "spondee-readme-"));
    try {
      const words = line
        .split(" ")
        .slice(2)
        .map((word) => (word.startsWith("examples/") ? path.join(root, word) : word))
        .map((word) => (/^[a-z]+\.(ics|wav)$/.test(word) ? path.join(folder, word) : word));
      const said: string[] = [];
      const run = await runCommandLine(words, commands, { ...realOutside, say: (text) => said.push(text) });
      expect({ exitCode: run.exitCode, said }).toEqual({ exitCode: 0, said: [] });
      expect(run.stdout).not.toBe("");
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  test("every link and picture leads somewhere", () => {
    const places = [...readme.matchAll(/\]\(([^)#]+)\)/g)]
      .map(([, place]) => place!)
      .filter((place) => !place.startsWith("http"));
    expect(places.length).toBeGreaterThan(8);
    expect(places.filter((place) => !existsSync(path.join(root, place)))).toEqual([]);
  });
});
