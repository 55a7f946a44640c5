// The command line in this process: what it printed, what it said, how it ended, what it wrote.
import type { Outside } from "../src/cli/command.ts";
import { commands } from "../src/cli/commands.ts";
import { realOutside } from "../src/cli/outside.ts";
import { runCommandLine } from "../src/cli/run-command.ts";

/** Files are read from disk unless `files` holds them; nothing is written to disk. */
export async function runCli(words: readonly string[], files: Readonly<Record<string, string | Uint8Array>> = {}) {
  const said: string[] = [];
  const written = new Map<string, Uint8Array>();
  const outside: Outside = {
    async readFile(path) {
      const held = files[path];
      if (held === undefined) return realOutside.readFile(path);
      return typeof held === "string" ? new TextEncoder().encode(held) : held;
    },
    async writeFile(path, chunks) {
      written.set(path, Buffer.concat([...chunks]));
    },
    say: (line) => said.push(line),
    print: (text) => said.push(text),
    untilAskedToStop: () => Promise.resolve(),
    environment: {},
    now: () => Date.UTC(2026, 2, 4, 12),
  };
  const { exitCode, stdout } = await runCommandLine(words, commands, outside);
  return {
    exitCode,
    stdout,
    stderr: said.join("\n"),
    written,
    json: <Shape>() => JSON.parse(stdout) as Shape,
  };
}
